"""Changes files the way a hostile or careless hand would: values, keys, kinds, pieces of other files; or bytes."""

import json
from collections.abc import Sequence
from copy import deepcopy
from random import Random

from fuzz.trees import Map, Seq, places, text_of, tree_of

from builder.body.catalogue import feature_kinds
from builder.body.feature import NAME, Parameter, ParameterKind
from builder.definition.drawn_kinds import DRAWN_KINDS
from builder.words.views import VIEW_KINDS

SYMBOLS = ("d", "k", "l", "D", "w", "h", "d1", "d2", "size")
NUMBERS = (
    *(
        "0",
        "-0",
        "-0.0",
        "1",
        "2",
        "3",
        "0.5",
        "-1",
        "1.5",
        "12",
        "30",
        "45",
        "60",
        "89.9",
        "90",
        "120",
        "180",
        "359",
        "360",
    ),
    *("1e-9", "1e-6", "1e-300", "99999", "100000", "1e5", "-1e5", "1e6", "1e12", "1e13", "1e400", "-1e400", "9" * 50),
    *(
        "1/2",
        "1-1/2",
        "0/1",
        "1/0",
        "999999/1",
        "1/999999",
        "-1/2",
        "012",
        "1:50",
        ".5",
        "5.",
        "1_000",
        "0x10",
        "1e",
        "٣",
    ),
)
TEXTS = (
    *(
        "~",
        "true",
        "no",
        '""',
        '" "',
        "x",
        "side",
        "both",
        "none",
        "CON",
        "nul",
        "..",
        "../x.yaml",
        "/etc/passwd",
        "iso",
    ),
    *(
        '"a\\nb"',
        '"a\\0b"',
        '"\\e[2J"',
        '"\\u202e"',
        '"\\ud800"',
        '"\\U0010ffff"',
        '"%%d"',
        '"^J"',
        '"\\\\U+0041"',
        "ß",
        "İ",
    ),
    *(
        '"x' + "y" * 300 + '"',
        '"' + "word " * 60 + '"',
        "A" * 40,
        "a" * 70,
        '"\\u00a0"',
        '"\\u00ad"',
        "&a",
        "*a",
        "!!str",
        "<<",
    ),
    *("{size}", '"{d} [x {l}]"', '"[{"', "10..20", "1..1e9", "20..10", "..", "1/2..2", "R12", "zero", "%d", "50%"),
)
FORMULAS = (
    *(
        "d",
        "2*d",
        "d/0",
        "sqrt(-1)",
        "9**9**9",
        "d**16",
        "1/(d-d)",
        "l - d",
        "-d",
        "tan(90)",
        "max(d, 1)",
        "min(d)",
        "d if",
    ),
    *(
        "d if d > 1 else 2",
        "not d",
        "1 < d < 3",
        "unknown + 1",
        "((((d))))",
        "1e12*1e12*1e12",
        "d*1e-7",
        "d and 0",
        "abs(-d)",
    ),
)


class Mutator:
    """Makes files from seeds, all of one kind: most from sound ones, some from those that are broken already."""

    def __init__(self, sound: Sequence[str], broken: Sequence[str], definitions: bool) -> None:
        self.sound, self.seeds = list(sound), [*sound, *broken]
        self.trees = [tree for seed in self.seeds if isinstance(tree := tree_of(seed), Map) and tree.items]
        self.good = [tree for seed in sound if isinstance(tree := tree_of(seed), Map)]
        self.definitions = definitions

    def made(self, random: Random) -> bytes:
        """Return a file made from a seed by a few changes of one sort or the other."""
        if random.random() < 0.1:
            return self.mangled(random, random.choice(self.seeds).encode())
        trees = self.good if random.random() < 0.85 else self.trees
        return self.changed(random, deepcopy(random.choice(trees)))

    def changed_bytes(self, random: Random, data: bytes) -> bytes:
        """Return a file with its tree changed; with its bytes changed where it has none."""
        try:
            tree = tree_of(data.decode()) if len(data) < 20_000 else None
        except UnicodeDecodeError:
            tree = None
        return self.mangled(random, data) if not isinstance(tree, Map) else self.changed(random, tree)

    def changed(self, random: Random, tree: "str | Seq | Map") -> bytes:
        """Return a tree after one to four changes, as a file."""
        built = self.definitions and isinstance(tree, Map) and random.random() < 0.6
        for _ in range(random.choice((0, 0, 1) if built else (1, 1, 1, 2, 2, 3, 4))):
            spots = list(places(tree))
            if spots:
                self._change(random, *random.choice(spots))
        if built and isinstance(tree, Map):
            self._build(random, tree)
        return text_of(tree).encode("utf-8", errors="replace")

    def mangled(self, random: Random, data: bytes) -> bytes:
        """Return bytes with a few overwritten, cut out, doubled or put in."""
        content = bytearray(data)
        for _ in range(random.randint(1, 8)):
            at, span = random.randint(0, len(content)), random.choice((1, 1, 2, 4, 16, 64))
            match random.randrange(5):
                case 0:
                    content[at : at + span] = random.randbytes(span)
                case 1:
                    del content[at : at + span]
                case 2:
                    content[at:at] = content[at : at + span] * random.choice((1, 2, 50))
                case 3:
                    content[at:at] = random.choice((*NUMBERS, *TEXTS, *FORMULAS)).encode("utf-8", errors="replace")
                case 4:
                    content[at:at] = random.choice(
                        (b"\n", b"\t", b": ", b"- ", b"[", b"}", b"#", b'"', b"\x00", b"\xff", b"%")
                    )
        return bytes(content)

    def _change(self, random: Random, owner: "Seq | Map", at: int) -> None:
        item = owner.items[at]
        if isinstance(item, str) and random.random() < 0.3 and item.replace(".", "", 1).isdecimal():
            self._put(owner, at, f"{float(item) * random.choice((0.1, 0.5, 0.9, 1.1, 2.0, 10.0)):g}")
            return
        match random.choice((0, 1, 2, 2, 3, 4, 5, 5, 6, 7, 7, 7, 7, 7, 7)):
            case 0:
                del owner.items[at]
            case 1:
                owner.items.insert(at, deepcopy(item))  # type: ignore[arg-type]
            case 2:
                other = random.randrange(len(owner.items))
                owner.items[at], owner.items[other] = owner.items[other], owner.items[at]
            case 3 if isinstance(owner, Map):
                owner.items[at] = (self._key(random), owner.items[at][1])
            case 4 if isinstance(owner, Seq):
                owner.items[at:at] = [deepcopy(owner.items[at]) for _ in range(random.choice((2, 10, 100)))]
            case 5:
                self._put(owner, at, self._piece(random))
            case 6:
                self._put(owner, at, random.choice((Seq(), Map(), Seq([self._scalar(random)]), Map([("x", "1")]))))
            case _:
                self._put(owner, at, self._scalar(random))

    def _put(self, owner: "Seq | Map", at: int, value: "str | Seq | Map") -> None:
        if isinstance(owner, Map):
            owner.items[at] = (owner.items[at][0], value)
        else:
            owner.items[at] = value

    def _piece(self, random: Random) -> "str | Seq | Map":
        owner, at = random.choice(list(places(random.choice(self.trees))))
        item = owner.items[at]
        return deepcopy(item[1] if isinstance(item, tuple) else item)

    def _key(self, random: Random) -> str:
        owner, at = random.choice(list(places(random.choice(self.trees))))
        item = owner.items[at]
        return item[0] if isinstance(item, tuple) else random.choice(TEXTS)

    def _scalar(self, random: Random) -> str:
        kind = random.random()
        if kind < 0.4:
            return random.choice(NUMBERS)
        return random.choice(TEXTS) if kind < 0.7 else random.choice(FORMULAS)

    def _build(self, random: Random, tree: Map) -> None:
        """Give a definition a body, or drawn shapes, made of anything there is."""
        kept = [(key, value) for key, value in tree.items if key not in ("body", "bodies", "drawn", "views")]
        views = random.sample(VIEW_KINDS, random.choice((1, 1, 2)))
        made: list[tuple[str, str | Seq | Map]] = [("views", Seq([*views]))]
        flat = random.random() < 0.15
        if not flat:
            ends = {"from": "0", "to": random.choice(("10", "10", "10", "10", "d", _number(random)))}
            stock = Map(
                [
                    ("name", "stock"),
                    ("diameter", random.choice(("20", "20", "10", "50", _number(random)))),
                    *ends.items(),
                ]
            )
            first: list[str | Seq | Map] = [Map([("cylinder", stock)])] if random.random() < 0.8 else []
            made.append(("body", Seq([*first, *(_feature(random) for _ in range(random.choice((1, 1, 2, 2, 3))))])))
            made.append(("density", "7.85"))
        if flat or random.random() < 0.15:
            made.append(("drawn", Map([(views[0], Seq([_shape(random) for _ in range(random.randint(1, 3))]))])))
        tree.items = [pair for pair in kept if pair[0] != "density"] + made


def _feature(random: Random) -> Map:
    kind = random.choice(tuple(feature_kinds()))
    entries: list[tuple[str, str | Seq | Map]] = []
    for parameter in feature_kinds()[kind].PARAMETERS:
        if parameter.name == NAME.name:
            entries.append(("name", f"f{random.randrange(1000)}"))
        elif parameter.required or random.random() < 0.15:
            entries.append((parameter.name, _stated(random, parameter)))
    return Map([(kind, Map(entries))])


def _stated(random: Random, parameter: Parameter) -> "str | Seq | Map":
    if parameter.kind is ParameterKind.CHOICE:
        return random.choice(parameter.choices)
    if parameter.kind is ParameterKind.PROFILE:
        return _knots(random)
    usual = {"from": "0", "to": "10", "at": "5", "count": "4", "pitch": "1", "width": "2", "depth": "2", "length": "4"}
    if parameter.name in usual and random.random() < 0.7:
        return usual[parameter.name]
    if parameter.name in ("from", "at"):
        return random.choice(("10", "5", "-5", _number(random)))
    if parameter.name in ("to", "count"):
        return random.choice(("5", "3", "15", "20", "0", _number(random)))
    if parameter.name in ("circle", "outer", "across_flats", "surface") and random.random() < 0.7:
        return random.choice(("20", "15", "12", "10", "18"))
    return _number(random)


def _number(random: Random) -> str:
    kind = random.random()
    if kind < 0.92:
        return f"{random.choice((0.1, 1.0, 1.0, 1.0, 10.0)) * random.choice((1, 2, 2, 3, 4, 5, 6, 8, 10, 20)):g}"
    return random.choice(NUMBERS) if kind < 0.96 else random.choice(("d", "2*d", "-d", "1e5*3", "3*1e-8", "1/3"))


def _knots(random: Random) -> Seq:
    knots: list[str | Seq | Map] = []
    for _ in range(random.choice((3, 3, 4, 5, 8))):
        at = Seq([_number(random), _number(random)])
        kind = random.choice(("", "", "corner", "arc"))
        knots.append(Map([(kind, at), ("radius", _number(random))]) if kind else at)
    return Seq(knots)


def _shape(random: Random) -> Map:
    kind = random.choice(tuple(DRAWN_KINDS))
    entries: list[tuple[str, str | Seq | Map]] = []
    for entry in DRAWN_KINDS[kind].entries:
        if not entry.required and random.random() < 0.6:
            continue
        match str(entry.states):
            case "number":
                entries.append((entry.name, _number(random)))
            case "place":
                entries.append((entry.name, Seq([_number(random), _number(random)])))
            case "knots":
                entries.append((entry.name, _knots(random)))
            case "closed":
                entries.append((entry.name, random.choice(("true", "false"))))
            case "role":
                entries.append((entry.name, random.choice(("outline", "axis", "hidden", "text", "narrow"))))
            case _:
                entries.append((entry.name, json.dumps(random.choice(("A", "SHRUNK ON", "50 %", "x" * 200)))))
    return Map([(kind, Map(entries))])


_ATOMS = ("1", "0", "2.5", "1e3", ".5", "3.", "d", "k", "l", "x_1", "1e12", "1e-12", "16", "90", "1e400", "10**12")
_SIGNS = (
    "+",
    "-",
    "*",
    "/",
    "**",
    "<",
    "<=",
    "==",
    "!=",
    ">",
    ">=",
    " and ",
    " or ",
    "%",
    "//",
    "@",
    "&",
    "|",
    "<<",
    " in ",
    " is ",
)
_SOUP = (
    *_ATOMS,
    *_SIGNS,
    *(
        "(",
        ")",
        ",",
        " ",
        "if",
        "else",
        "not",
        "min",
        "max",
        "abs",
        "sqrt",
        "sin",
        "cos",
        "tan",
        "=",
        ":=",
        "lambda",
        "'a'",
        "[",
        "]",
    ),
    *(
        "__import__",
        "d.real",
        "f'{d}'",
        "None",
        "True",
        "1j",
        "0b1",
        "1_0",
        "...",
        "*d",
        "**d",
        "a=1",
        "yield",
        "await",
        "²",
        "×",
        "\n",
        "\t",
    ),
    *(
        "\\",
        "#",
        "\x00",
        "\ud800",
        "e",
        "E5",
        "1e5x",
        "é",
        "ｄ",
        "٣",
        "1-1/2",
        "{d}",
        "`",
        "$",
        "?",
        "!",
        ";",
        ":",
        '"',
        "0" * 30,
    ),
)


def formula(random: Random) -> str:
    """Return a formula: well-formed, nearly so, or soup."""
    kind = random.random()
    if kind < 0.5:
        text = _expression(random, random.randint(0, 7))
    elif kind < 0.9:
        return "".join(random.choices(_SOUP, k=random.choice((1, 2, 3, 5, 8, 20, 60))))
    else:
        return random.choice(
            ("(", "-", "not ", "abs(", "d+", "d**", "d if d else ", "min(d,", "1<", "9" * 7)
        ) * random.randint(1, 200)
    if random.random() < 0.3:
        at = random.randint(0, len(text))
        text = text[:at] + random.choice(_SOUP) + text[at + random.choice((0, 1, 3)) :]
    return text


def _expression(random: Random, depth: int) -> str:
    if depth <= 0:
        return random.choice(_ATOMS[:-2])

    def below() -> str:
        return _expression(random, depth - random.choice((1, 1, 2, 4)))

    match random.randrange(7):
        case 0 | 1:
            return f"{below()}{random.choice(_SIGNS[:13])}{below()}"
        case 2:
            return f"({below()})"
        case 3:
            return f"{random.choice(('-', 'not ', '+'))}{below()}"
        case 4:
            return f"{random.choice(('abs', 'sqrt', 'sin', 'cos', 'tan'))}({below()})"
        case 5:
            return f"{random.choice(('min', 'max'))}({below()}, {below()})"
    return f"{below()} if {below()} else {below()}"
