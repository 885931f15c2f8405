"""Hostile definitions and shop standards, each with what must be said of it; `@` stands for the file."""

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
    return f"[{', '.join([text] * count)}]"


_LAUGHS = "a: &a [x, x]\n" + "".join(
    f"{b}: &{b} [{', '.join([f'*{a}'] * 9)}]\n" for a, b in zip("abcdefgh", "bcdefghi", strict=True)
)

FILES = {  # what the reader of YAML says
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
    "many-faults": pin("group: pins\n", "group: pins\n" + "".join(f"unknown{n}: 1\n" for n in range(5000))),
}

VALUES = {  # what the definition station says
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
    "backslash": pin('"Pin {size}', "'Pin \\U+0041 {size}"),
    "right-to-left": pin("title: Pin", 'title: "\\u202eniP"'),
    "no-break-blank": pin("title: Pin", 'title: "Pin\\u00a0"'),
    "long-text": pin("title: Pin", f"title: {'Pin ' * 100}"),
    "density": pin("density: 7.85", "density: -1/2"),
    "power-of-power": body('cylinder: {diameter: d, from: 0, to: "9**9**9"}'),
    "nested": body(f'cylinder: {{diameter: d, from: 0, to: "{"(" * 180}1{")" * 180}"}}'),
    "long-formula": body(f'cylinder: {{diameter: d, from: 0, to: "min({", ".join(["d"] * 100_000)})"}}'),
    "code-in-formula": body("cylinder: {diameter: d, from: 0, to: \"__import__('os').system('echo')\"}"),
    "attribute-in-formula": body('cylinder: {diameter: d, from: 0, to: "d.__class__"}'),
    "knots": body(f"revolved: {{profile: {long_list('[0, 1]', 50_000)}}}"),
    "features": body(*(["cylinder: {diameter: d, from: 0, to: 20}"] * 101)),
}

PARTS = {  # what is said when parts are made
    "balls": body("cylinder: {diameter: d, from: 0, to: 20}", "balls: {diameter: 1e-5, circle: d, at: 5, count: 1e9}"),
    "rollers": body("cylinder: {diameter: d, from: 0, to: 20}", "rollers: {diameter: 1e-5, length: 1, circle: d, at: 5, count: 1e9}"),
    "holes": body(
        "cylinder: {diameter: d, from: 0, to: 20}", "bolt_holes: {circle: 4, diameter: 1e-5, count: 1e9, from: 0, to: 20}"
    ),
    "thread": body("thread: {diameter: d, pitch: 1e-5, from: 0, to: 1000}"),
    "starts": body("thread: {diameter: d, pitch: 1, from: 0, to: 20, starts: 1e9}"),
    "far": body("cylinder: {diameter: d, from: 0, to: 1e12}"),
    "far-formula": body('cylinder: {diameter: d, from: 0, to: "d**16"}'),
    "small": body("cylinder: {diameter: 1e-300, from: 0, to: 20}"),
    "pieces": body(
        "cylinder: {diameter: 1000, from: 0, to: 20}",
        *(f"bolt_holes: {{name: h{n}, circle: {n + 20}, diameter: 1e-3, count: 400, from: 0, to: 20}}" for n in range(3)),
    ),
}
