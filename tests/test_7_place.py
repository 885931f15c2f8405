"""All or nothing: whatever happens to a build, the old library or the new one is there, whole, and nothing else."""

import json
import os
import subprocess
import sys
import threading
from collections import Counter
from pathlib import Path

import pytest

from builder.pipeline import job, lock, place
from builder.pipeline.build import build
from builder.pipeline.order import Order
from builder.pipeline.place import staged, write
from builder.pipeline.prepare import prepare
from builder.words.problems import Rejected

HERE = Path(__file__).parent
ONE, OTHER = ("ISO7089-12-*",), ("ISO7089-16-*",)


NOBODY = """
import os, sys
from pathlib import Path
from builder.pipeline.build import build
from builder.pipeline.prepare import prepare
from builder.pipeline.order import Order
from builder.words.problems import Rejected
order = Order("iso", patterns=(sys.argv[2],), out=Path(sys.argv[1]), jobs=1)
planned = prepare(order)
os.seteuid(65534)
try:
    build(order, planned, lambda family, blocks: None)
except Rejected as rejected:
    print(rejected)
"""


def tree(folder: Path) -> dict:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def names(folder: Path) -> list:
    return sorted(item.name for item in folder.iterdir())


def made(out: Path, patterns=ONE) -> dict:
    order = Order("iso", patterns=patterns, out=out, jobs=1)
    build(order, prepare(order), lambda family, blocks: None)
    return tree(out.resolve())


def refused(out: Path, patterns=ONE) -> str:
    with pytest.raises(Rejected) as rejected:
        made(out, patterns)
    return str(rejected.value)


def script(*arguments: str) -> subprocess.CompletedProcess:
    env = {**os.environ, "PYTHONPATH": os.pathsep.join((str(HERE.parent), str(HERE)))}
    return subprocess.run(
        [sys.executable, *arguments], env=env, capture_output=True, text=True, timeout=600, check=False
    )


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
@pytest.mark.parametrize(("moments", "jobs"), [(200, 1), (16, 2)])
def test_killed_at_any_moment(tmp_path, moments, jobs):
    """SIGKILL by the clock and at calls of the file system: one library or the other; the next build clears up."""
    done = script(str(HERE / "killing.py"), str(tmp_path), str(moments), str(jobs), "lock-gate")
    assert done.returncode == 0, done.stderr
    report = json.loads(done.stdout)
    counts = Counter(report["found"])
    assert set(counts) == {"old", "new"} and counts["old"] >= moments // 10, counts
    assert report["whole"] and report["left"] == ["dist"]


def test_a_failing_write(tmp_path, monkeypatch):
    """Whichever write meets a full disk, the old library is there to the byte, and no rubbish beside it."""
    out = tmp_path / "dist"
    before, count, fail_at = made(out), [0], [0]

    def full(path, content):
        count[0] += 1
        if count[0] == fail_at[0]:
            raise OSError(28, "No space left on device", str(path))
        return write(path, content)

    monkeypatch.setattr(job, "write", full)
    for fail_at[0] in range(1, 10):
        count[0] = 0
        assert "no space left on device; the library there is unchanged" in refused(out, OTHER)
        assert tree(out) == before and names(tmp_path) == ["dist"]
    monkeypatch.undo()
    assert made(out, OTHER) != before


@pytest.mark.skipif(not hasattr(os, "fork"), reason="limits of POSIX")
def test_a_disk_that_really_is_full(tmp_path):
    """The operating system refuses a file that grows too large: a message, exit 1, nothing lost."""
    out = tmp_path / "dist"
    before = made(out)
    limit = (
        "import resource, sys; resource.setrlimit(resource.RLIMIT_FSIZE, (30000, 30000)); from builder.cli import main"
    )
    arguments = ["blockwright", "build", "--only", OTHER[0], "--out", str(out)]
    done = script("-c", f"{limit}; sys.argv = {arguments!r}; main()")
    assert done.returncode == 1 and "cannot be written: file too large" in done.stderr and "Trace" not in done.stderr
    assert tree(out) == before and names(tmp_path) == ["dist"]


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="permissions of POSIX")
def test_a_folder_that_may_not_be_written(tmp_path):
    """Beside a library, where the next one would stand, nothing may be made: a message, nothing lost."""
    out = tmp_path / "dist"
    before = made(out)
    if os.geteuid():
        tmp_path.chmod(0o500)
        assert "permission denied; the library there is unchanged" in refused(out, OTHER)
        tmp_path.chmod(0o700)
    else:  # root may write anywhere: let somebody else try
        for folder in (tmp_path, *list(tmp_path.parents)[:3]):
            folder.chmod(folder.stat().st_mode | 0o055)
        done = script("-c", NOBODY, str(out), OTHER[0])
        assert "cannot be written: permission denied; the library there is unchanged" in done.stdout, done.stderr
    assert tree(out) == before


def test_failing_moves(tmp_path, monkeypatch):
    """Where folders cannot be exchanged in one step, two renames do it; either may fail."""
    out = tmp_path / "dist"
    before = made(out)
    monkeypatch.setattr(place, "exchanged", lambda one, other: False)
    for failing in (1, 2):
        count, rename = [0], Path.rename

        def sometimes(self, target, count=count, failing=failing, rename=rename):
            count[0] += 1
            if count[0] == failing:
                raise PermissionError(13, "Permission denied", str(target))
            return rename(self, target)

        with monkeypatch.context() as patch:
            patch.setattr(Path, "rename", sometimes)
            assert "permission denied" in refused(out, OTHER)
        assert tree(out) == before and names(tmp_path) == ["dist"]
    assert made(out, OTHER) != before and names(tmp_path) == ["dist"]


@pytest.mark.parametrize("whole", [True, False])
def test_killed_between_two_renames(tmp_path, whole):
    """The old library stands aside and none is in its place: the next build puts back a whole one before all else."""
    out = tmp_path / "dist"
    before = made(out)
    after = made(tmp_path / ".dist.next", OTHER)
    out.rename(tmp_path / ".dist.last")
    if not whole:
        (tmp_path / ".dist.next" / "library.json").unlink()
    with pytest.raises(KeyboardInterrupt), staged(out):
        assert tree(out) == (after if whole else before)
        raise KeyboardInterrupt
    assert names(tmp_path) == ["dist"]


def test_a_persons_files_stay(tmp_path, monkeypatch):
    """What else lies in the folder is there after every build, in one step or in two, and after one that was killed."""
    out = tmp_path / "dist"
    made(out)
    (out / "notes").mkdir()
    (out / "notes" / "winch.txt").write_text("pawl: ask", encoding="utf-8")
    for exchanges in (True, False):
        if not exchanges:
            monkeypatch.setattr(place, "exchanged", lambda one, other: False)
        made(out, OTHER if exchanges else ONE)
        assert (out / "notes" / "winch.txt").read_text(encoding="utf-8") == "pawl: ask"
    made(tmp_path / ".dist.next")
    (out / "notes").rename(tmp_path / ".dist.next" / "notes")  # as a kill right after the exchange leaves it
    made(out, OTHER)
    assert (out / "notes" / "winch.txt").exists() and names(tmp_path) == ["dist"]


def test_one_build_at_a_time(tmp_path, monkeypatch):
    """The second is refused while the first is at work, and only then."""
    monkeypatch.setattr(lock, "PATIENCE", 0.1)
    out = tmp_path / "dist"
    with staged(out) as stage:
        assert "another build is at work on this library" in refused(out)
        write(stage / "library.json", b"{}")
    assert (out / "library.json").read_bytes() == b"{}"
    assert made(out)


def test_many_builds_at_once(tmp_path, monkeypatch):
    """Eight at one folder: each succeeds or is refused, one at least succeeds, and the library is that of one."""
    monkeypatch.setattr(lock, "PATIENCE", 0.1)
    out = tmp_path / "dist"
    wanted = [made(tmp_path / "a", ONE), made(tmp_path / "b", OTHER)]
    said: list[str] = []

    def run(patterns):
        try:
            said.append("done" if made(out, patterns) else "")
        except Rejected as rejected:
            said.append(str(rejected))

    threads = [threading.Thread(target=run, args=((ONE, OTHER)[n % 2],)) for n in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert "done" in said and all(s == "done" or "another build is at work" in s for s in said), said
    assert tree(out) in wanted and names(tmp_path) == ["a", "b", "dist"]


def test_folders_that_are_no_library_are_not_touched(tmp_path):
    """A checkout has a folder `blocks` of its own: building into it must not replace it."""
    (tmp_path / "blocks").mkdir()
    (tmp_path / "blocks" / "mine.yaml").write_text("precious", encoding="utf-8")
    assert "no blockwright library" in refused(tmp_path)
    assert (tmp_path / "blocks" / "mine.yaml").read_text(encoding="utf-8") == "precious"
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert "is a file" in refused(tmp_path / "file")


def test_a_link_to_a_folder_stays_a_link(tmp_path):
    """The library lies where the link leads, on a share perhaps."""
    (tmp_path / "share").mkdir()
    (tmp_path / "dist").symlink_to(tmp_path / "share", target_is_directory=True)
    made(tmp_path / "dist")
    assert (tmp_path / "dist").is_symlink() and (tmp_path / "share" / "library.json").exists()
