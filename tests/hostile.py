"""Hostile definitions and shop standards, each with what must be said of it."""

PIN = """\
family: pin
code: PIN
title: Pin
group: pins
standard: {number: PIN 1, edition: "1", source: made up}
units: mm
density: 7.85
designation: "Pin {size}[ - {class}]"
symbols:
  d: {is: diameter, draws: nominal}
table:
  columns: [size, d]
  rows:
    - ["6", 6]
body:
  - cylinder: {diameter: d, from: 0, to: 20}
views: [side]
"""
CYLINDER = "  - cylinder: {diameter: d, from: 0, to: 20}\n"


def pin(old: str, new: str) -> str:
    """Return the pin's definition with one piece of it changed."""
    assert PIN.count(old) == 1, old
    return PIN.replace(old, new)


def body(*features: str) -> str:
    """Return the pin's definition with other features."""
    return pin(CYLINDER, "".join(f"  - {feature}\n" for feature in features))


def long_list(text: str, count: int) -> str:
    """Return a list of one value over and over."""
    return f"[{', '.join([text] * count)}]"


def large(sizes: int, columns: int, lengths: int) -> str:
    """Return the pin's definition with a table of so many sizes and columns, every size in so many lengths."""
    more = [f"c{n}" for n in range(columns - 4)]
    symbols = "".join(f"  {name}: {{is: a figure, draws: nominal}}\n" for name in ("l", "lo", "hi", *more))
    row = ", ".join(["12.345"] * len(more))
    rows = "".join(f'    - ["{n}", 6, 1, {lengths}{", " + row if row else ""}]\n' for n in range(sizes))
    listed = ", ".join(str(n + 1) for n in range(lengths))
    text = pin("  columns: [size, d]\n", f"  columns: [{', '.join(['size', 'd', 'lo', 'hi', *more])}]\n")
    text = text.replace('    - ["6", 6]\n', rows).replace("table:\n", f"{symbols}table:\n")
    return text.replace("body:\n", f"lengths: {{symbol: l, from: lo, to: hi, listed: [{listed}]}}\nbody:\n")


_LAUGHS = "a: &a [x, x]\n" + "".join(
    f"{b}: &{b} [{', '.join([f'*{a}'] * 9)}]\n" for a, b in zip("abcdefgh", "bcdefghi", strict=True)
)

_FILES = {  # what the reader of YAML says
    "laughs": _LAUGHS,
    "merge": "base: {x: 1}\nfamily: {<<: [1, 2]}\n",
    "tag": "family: !!python/object/apply:os.system [echo]\n",
    "directives": "".join(f"%TAG !{n}! tag\n" for n in range(100_000)) + "--- {}\n",
    "deep": "[" * 1_000_000,
    "deep-groups": "{a: " * 100_000,
    "many-values": "- x\n" * 300_000,
    "large": "#" * 2_100_000,
    "long-key": f"{'k' * 1000}: 1\n",
    "long-number": pin("{diameter: d", f"{{diameter: {'9' * 5000}"),
    "nul-escaped": pin("title: Pin", 'title: "Pin\\0"'),
    "escape-escaped": pin("title: Pin", 'title: "Pin\\e[2J"'),
    "nul": pin("title: Pin", "title: Pin\0"),
    "surrogate": pin("title: Pin", 'title: "\\ud800"'),
    "beyond-unicode": pin("title: Pin", 'title: "\\U00110000"'),
    "huge-escape": pin("title: Pin", 'title: "\\UFFFFFFFF"'),
}

_VALUES = {  # what the definition station says
    "infinite": pin('["6", 6]', '["6", 1e400]'),
    "huge": pin('["6", 6]', '["6", 1e11]'),
    "not-a-number": pin('["6", 6]', '["6", .nan]'),
    "device": pin("family: pin", "family: con"),
    "key-with-break": pin("family: pin", 'family: "pin\\n"'),
    "key-elsewhere": pin("family: pin", "family: ../pin"),
    "code-with-break": pin("code: PIN", 'code: "PIN\\n"'),
    "code-elsewhere": pin("code: PIN", "code: ../P"),
    "long-key-of-family": pin("family: pin", f"family: {'p' * 61}"),
    "long-size": pin('["6", 6]', f'["{"6" * 32}", 6]'),
    "empty-size": pin('["6", 6]', '[" ", 6]'),
    "break-in-title": pin("title: Pin", 'title: "Pin\\n  0\\nEOF"'),
    "break-in-edition": pin('edition: "1"', 'edition: "1\\n  0"'),
    "code-in-designation": pin('"Pin {size}', '"Pin %%d {size}'),
    "caret": pin('"Pin {size}', '"Pin ^J {size}'),
    "backslash": pin('"Pin {size}[ - {class}]"', "'Pin \\U+0041 {size}'"),
    "right-to-left": pin("title: Pin", 'title: "\\u202eniP"'),
    "no-break-blank": pin("title: Pin", 'title: "Pin\\u00a0"'),
    "long-text": pin("title: Pin", f"title: {'Pin ' * 100}"),
    "density": pin("density: 7.85", "density: -1/2"),
    "power-of-power": body('cylinder: {diameter: d, from: 0, to: "9**9**9"}'),
    "nested": body(f'cylinder: {{diameter: d, from: 0, to: "{"(" * 240}1{")" * 240}"}}'),
    "long-formula": body(f'cylinder: {{diameter: d, from: 0, to: "min({", ".join(["d"] * 100_000)})"}}'),
    "code-in-formula": body("cylinder: {diameter: d, from: 0, to: \"__import__('os').system('echo')\"}"),
    "attribute-in-formula": body('cylinder: {diameter: d, from: 0, to: "d.__class__"}'),
    "knots": body(f"revolved: {{profile: {long_list('[0, 1]', 5_000)}}}"),
    "features": body(*(["cylinder: {diameter: d, from: 0, to: 20}"] * 101)),
}

_PARTS = {  # what is said when parts are made
    "balls": body("cylinder: {diameter: d, from: 0, to: 20}", "balls: {diameter: 1e-5, circle: d, at: 5, count: 1e9}"),
    "rollers": body(
        "cylinder: {diameter: d, from: 0, to: 20}", "rollers: {diameter: 1e-5, length: 1, circle: d, at: 5, count: 1e9}"
    ),
    "holes": body(
        "cylinder: {diameter: d, from: 0, to: 20}",
        "bolt_holes: {circle: 4, diameter: 1e-5, count: 1e9, from: 0, to: 20}",
    ),
    "thread": body("thread: {diameter: d, pitch: 1e-5, from: 0, to: 1000}"),
    "starts": body("thread: {diameter: d, pitch: 1, from: 0, to: 20, starts: 1e9}"),
    "far": body("cylinder: {diameter: d, from: 0, to: 1e12}"),
    "far-formula": body('cylinder: {diameter: d, from: 0, to: "d**16"}'),
    "small": body("cylinder: {diameter: 1e-300, from: 0, to: 20}"),
    "pieces": body(
        "cylinder: {diameter: 1000, from: 0, to: 20}",
        *(
            f"bolt_holes: {{name: h{n}, circle: {n + 20}, diameter: 1e-3, count: 400, from: 0, to: 20}}"
            for n in range(3)
        ),
    ),
}

_SAID = {  # or how it begins
    "laughs": "pin.yaml:1:4: anchor &a; expected the value alone; quotes round text with & in front",
    "merge": "pin.yaml:2:10: merge key <<; expected every entry written out",
    "tag": "pin.yaml:1:9: tag with !; expected the value alone; quotes round text with ! in front",
    "directives": "pin.yaml:1:1: directive %; expected quotes round text with % in front",
    "deep": "pin.yaml:1:1001: YAML cannot be read: exceeded maximum nesting depth;",
    "deep-groups": "pin.yaml:1:78: nested more than 20 deep; expected a flatter file",
    "many-values": "pin.yaml:200000:3: file has more than 200000 values; expected one family or one shop standard",
    "large": "pin.yaml: file is larger than 2 MB; expected one family or one shop standard",
    "long-key": "pin.yaml:1:1: key of 1000 characters; expected at most 100",
    "long-number": "pin.yaml:16:26: number is too large; expected at most 1e12, in at most 40 digits",
    "nul-escaped": "pin.yaml:3:8: unprintable character 0x00; expected plain text",
    "escape-escaped": "pin.yaml:3:8: unprintable character 0x1b; expected plain text",
    "nul": "pin.yaml:3:11: unprintable character 0x00; expected plain text",
    "surrogate": "pin.yaml:3:11: YAML cannot be read: found invalid Unicode character escape code;",
    "beyond-unicode": "pin.yaml:3:11: YAML cannot be read: found invalid Unicode character escape code;",
    "huge-escape": "pin.yaml:3:11: YAML cannot be read: found invalid Unicode character escape code;",
    "infinite": "pin.yaml:14:13: number is too large; expected at most 1e12, in at most 40 digits",
    "huge": "pin.yaml:14:13: 100000000000.0 in column d; expected at most 100000",
    "not-a-number": "pin.yaml:14:13: text '.nan' where a number belongs; expected a number such as 12.5 or 43/64",
    "device": "pin.yaml:1:9: family con; expected a name that is no device of Windows",
    "key-with-break": "pin.yaml:1:9: family is text 'pin\\n' in quotes;",
    "key-elsewhere": "pin.yaml:1:9: family is text '../pin';",
    "code-with-break": "pin.yaml:2:7: code is text 'PIN\\n' in quotes;",
    "code-elsewhere": "pin.yaml:2:7: code is text '../P'; expected at most 8 of A-Z 0-9 _, beginning with a letter",
    "long-key-of-family": "pin.yaml:1:9: family is text of 61 characters; expected at most 60",
    "long-size": "pin.yaml:14:8: text '66666666666666666666666666666666' in quotes as a size;",
    "empty-size": "pin.yaml:14:8: text ' ' in quotes as a size; expected 1 to 31 characters",
    "break-in-title": "pin.yaml:3:12: '\\n' in a text for drawings;",
    "break-in-edition": "pin.yaml:5:38: '\\n' in a text for drawings;",
    "code-in-designation": "pin.yaml:8:19: %% in a text for drawings; expected no formatting codes",
    "caret": "pin.yaml:8:19: ^ in a text for drawings; expected no formatting codes",
    "backslash": "pin.yaml:8:19: \\ in a text for drawings; expected no formatting codes",
    "right-to-left": "pin.yaml:3:9: '\\u202e' in a text for drawings;",
    "no-break-blank": "pin.yaml:3:12: '\\xa0' in a text for drawings;",
    "long-text": "pin.yaml:3:8: title is text of 399 characters; expected at most 250",
    "density": "pin.yaml:7:10: density is text '-1/2'; expected more than 0",
    "power-of-power": "pin.yaml:16:46: power of 3.8742e+08, more than 16 for 6; expected a finite number",
    "nested": "pin.yaml:16:243: formula is nested too deeply; expected a simpler formula",
    "long-formula": "pin.yaml:16:43: formula is 300003 characters long; expected at most 500",
    "code-in-formula": 'pin.yaml:16:54: "\'" does not belong in a formula;',
    "attribute-in-formula": "pin.yaml:16:43: formula cannot be read here;",
    "knots": "pin.yaml:16:25: profile is a list with 5000 entries; expected at most 200",
    "features": "pin.yaml:16:3: body is a list with 101 entries; expected at most 100",
    "balls": "pin.yaml:17:54: 6: a figure of 1e+09; expected at most 100000 either way",
    "rollers": "pin.yaml:17:67: 6: a figure of 1e+09; expected at most 100000 either way",
    "holes": "pin.yaml:17:52: 6: a figure of 1e+09; expected at most 100000 either way",
    "thread": "pin.yaml:16:34: 6, thread: thread of 100000000 turns; must be at most 10000",
    "starts": "pin.yaml:16:62: 6: a figure of 1e+09; expected at most 100000 either way",
    "far": "pin.yaml:16:42: 6: a figure of 1e+12; expected at most 100000 either way",
    "far-formula": "pin.yaml:16:43: 6: d**16 is 2.82111e+12; expected at most 100000 either way",
    "small": "pin.yaml:16:26: 6, cylinder: diameter is 0; must be greater than 0",
    "pieces": "pin.yaml:15:1: 6, body: is made of 1201 solids and voids; expected at most 1000",
}
_TEXTS = _FILES | _VALUES | _PARTS
DEFINITIONS = {name: (_TEXTS[name], said) for name, said in _SAID.items()}

SHOPS = {
    "up-and-away": ("based_on: ../other.yaml\n", "own.yaml:2:11: {house}/../other.yaml lies elsewhere;"),
    "absolute": ("based_on: /etc/passwd\n", "own.yaml:2:11: /etc/passwd lies elsewhere;"),
    "link": ("based_on: link.yaml\n", "own.yaml:2:11: {house}/link.yaml lies elsewhere;"),
    "nul": ('based_on: "a\\0.yaml"\n', "own.yaml:2:11: unprintable character 0x00;"),
    "endless": (f"based_on: {'ü' * 240}.yaml\n", "own.yaml:2:11: {house}/üüü"),
    "device": ("based_on: /dev/zero\n", "own.yaml:2:11: /dev/zero does not exist;"),
    "itself": ("based_on: own.yaml\n", "own.yaml:2:11: shop standard own.yaml is based on itself;"),
    "layer-with-break": (
        'based_on: iso\nroles: {outline: {layer: "A\\n"}}\n',
        "own.yaml:3:26: layer is text 'A\\n' in quotes; expected at most 31 of A-Z",
    ),
    "style-with-break": ('based_on: iso\ntext: {style: "A\\n"}\n', "own.yaml:3:15: style is text 'A\\n' in quotes;"),
    "font-elsewhere": ("based_on: iso\ntext: {font: ../../txt.shx}\n", "own.yaml:3:14: font is text '../../txt.shx';"),
    "line-type-with-break": (
        'based_on: iso\nlinetypes: {"A\\n": {description: a, pattern: []}}\n',
        "own.yaml:3:13: linetypes is text 'A\\n';",
    ),
    "tiny-dashes": (
        "based_on: iso\nlinetypes: {A: {description: a, pattern: [0.01, -0.01]}}\n",
        "own.yaml:3:42: pattern of A is 0.02 mm long; expected 0.1 or more",
    ),
    "long-dashes": (
        "based_on: iso\nlinetypes: {A: {description: a, pattern: [999999/1, -1]}}\n",
        "own.yaml:3:43: an entry of pattern is text '999999/1'; expected at most 100",
    ),
    "tiny-scale": (
        "based_on: iso\nplot_scale: 1e-9\n",
        "own.yaml:3:13: the number 1e-09 as plot scale; expected from 1:10000 to 1000:1",
    ),
    "huge-scale": (
        "based_on: iso\nplot_scale: 999999:1\n",
        "own.yaml:3:13: text '999999:1' as plot scale; expected from 1:10000 to 1000:1",
    ),
    "high-text": (
        "based_on: iso\ntext: {height: 999999/1}\n",
        "own.yaml:3:16: height is text '999999/1'; expected at most 100",
    ),
    "overhang": (
        "based_on: iso\naxis_overhang: -1/2\n",
        "own.yaml:3:16: axis_overhang is text '-1/2'; expected at least 0",
    ),
    "code-in-finish": (
        "based_on: iso\nattributes: {finish: '%%c'}\n",
        "own.yaml:3:23: %% in a text for drawings; expected no formatting codes",
    ),
    "break-in-finish": (
        'based_on: iso\nattributes: {finish: "a\\nb"}\n',
        "own.yaml:3:24: '\\n' in a text for drawings;",
    ),
}
