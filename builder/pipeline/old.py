"""The library that a build finds in its folder: which of its files still are what a new one would hold."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from builder.output.manifest import block_of_line, paths_of
from builder.pipeline.job import Done
from builder.pipeline.place import ENTRIES, MANIFEST, take_over
from builder.pipeline.record import intact, read_record
from builder.pipeline.volume import Volume


class Old:
    """What can be taken over from a folder; nothing where it holds no library, or one without a good record."""

    def __init__(self, out: Path) -> None:
        self.out = out
        self._record = read_record(out)
        self._files = intact(out, self._record) if self._record else frozenset[str]()

    def kept(self, volume: Volume) -> frozenset[str]:
        """Return the sizes of a volume whose blocks have files that a new build would write again."""
        made = self._record.volumes.get(volume.key) if self._record and self._files else None
        if made is None:
            return frozenset()
        missing = {
            block.row.size
            for block in volume.blocks
            if not self._files.issuperset(paths_of(volume.family.key, block.name))
        }
        return frozenset(size for size, recipe in volume.recipes.items() if made.sizes.get(size) == recipe) - missing

    def has(self, volume: Volume) -> bool:
        """Tell whether the whole volume, collection and sheets too, can be taken over."""
        made = self._record.volumes.get(volume.key) if self._record and self._files else None
        return made is not None and made.sizes == volume.recipes and self._files.issuperset(made.files)

    def taken_over(self, volume: Volume, stage: Path) -> Done:
        """Let a volume's files stand in the new library."""
        assert self._record is not None
        files = self._record.volumes[volume.key].files
        for name in files:
            take_over(self.out / name, stage / name)
        return Done(volume.key, files, 0, ())

    def copy_entries(self, volumes: Sequence[Volume], stage: Path) -> None:
        """Copy what the manifest says of volumes that were taken over."""
        if not volumes:
            return
        of_block = {block.name: volume.key for volume in volumes for block in volume.blocks}
        lines: dict[str, list[bytes]] = {volume.key: [] for volume in volumes}
        for name, line in self._entries():
            if name in of_block:
                lines[of_block[name]].append(line)
        (stage / ENTRIES).mkdir(exist_ok=True)
        for key, found in lines.items():
            (stage / ENTRIES / key).write_bytes(b"".join(found))

    def _entries(self) -> Iterator[tuple[str, bytes]]:
        with (self.out / MANIFEST).open("rb") as file:
            for line in file:
                name = block_of_line(line)
                if name is not None:
                    yield name, line.rstrip(b",\n") + b"\n"
