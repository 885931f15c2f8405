"""Changes files the way a hostile or careless hand would: values, keys, kinds, pieces of other files; or bytes."""

from collections.abc import Sequence
from copy import deepcopy
from random import Random

from fuzz.building import build
from fuzz.trees import Map, Seq, places, text_of, tree_of
from fuzz.values import FORMULAS, NUMBERS, TEXTS


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
            build(random, tree)
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
