"""Run as a script: write a folder over an old one, killed before its 1st, 2nd, 3rd ... call to the system.

Every call that touches files raises one of Python's audit events; a child process counts them and kills itself at the
nth. The parent then looks at what lies there. Prints one JSON line: a list of [step, finished, state, strangers].
"""

from __future__ import annotations

import json
import os
import signal
import sys
import traceback
from pathlib import Path

from geomgen.folder import swap, write_folder

OLD = {"cut/rib_R1.dxf": b"old rib 1", "cut/rib_R2.dxf": b"old rib 2", "parts.csv": b"old parts"}
NEW = {"cut/rib_R1.dxf": b"new rib 1", "cut/rib_R3.dxf": b"new rib 3", "print/hub.stl": b"new hub", "parts.csv": b"new"}
STRANGERS = {"notes.txt": b"mine", "cut/jig.dxf": b"my jig"}
WATCHED = ("open", "os.", "shutil.", "ctypes.")


def contents(folder: Path) -> dict[str, bytes]:
    return {f.relative_to(folder).as_posix(): f.read_bytes() for f in folder.rglob("*") if f.is_file()}


def child(target: Path, step: int) -> None:
    left = step

    def count_down(event: str, _: object) -> None:
        nonlocal left
        if event.startswith(WATCHED):
            left -= 1
            if left == 0:
                os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(count_down)
    write_folder(target, NEW, {})


def state(target: Path) -> str:
    if not target.is_dir():
        return "missing"
    found = {name: data for name, data in contents(target).items() if name not in STRANGERS and name != "manifest.json"}
    listed = json.loads((target / "manifest.json").read_text())["files"]
    for name, files in (("old", OLD), ("new", NEW)):
        if found == files and set(listed) == set(files):
            return name
    return f"mixed: {sorted(found)}"


def main(work: Path, with_swap: bool) -> None:
    if not with_swap:
        swap.exchange = lambda a, b: False  # as where the system can't swap two folders
    seen = []
    for step in range(1, 2000):
        target = work / f"{step}" / "base"
        write_folder(target, OLD, {})
        for name, data in STRANGERS.items():
            (target / name).write_bytes(data)
        pid = os.fork()
        if pid == 0:
            try:
                child(target, step)
            except BaseException:
                traceback.print_exc()
                os._exit(1)
            os._exit(0)
        code = os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])
        if code not in (0, -signal.SIGKILL):
            raise SystemExit(f"step {step}: the run ended with {code}, neither done nor killed")
        killed = state(target)
        kept = target.is_dir() and all((target / name).read_bytes() == data for name, data in STRANGERS.items())
        write_folder(target, NEW, {})  # the next run puts all right
        after = contents(target)
        good = state(target) == "new" and all(after.get(name) == data for name, data in STRANGERS.items())
        litter = [f.name for f in target.parent.iterdir() if f != target]
        seen.append([step, code == 0, killed, kept, good and not litter])
        if code == 0:
            break
    print(json.dumps(seen))


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2] == "swap")
