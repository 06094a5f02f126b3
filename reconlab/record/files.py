"""Where is a record kept? A file that is always whole, and its past states in a folder beside it.

A new state is written to a file of its own, forced to disk and put in the old one's place in one step of the
operating system. Before that the old state is copied into ``violet-powder.past/`` under the next number, so the
last number there is the backup. That only one program writes at a time is the caller's care.
"""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import time
from pathlib import Path

from reconlab.errors import FileError, RecordError
from reconlab.record.checking import dump, parse, plain
from reconlab.record.parts import Reconstruction
from reconlab.record.yaml_text import write_over

_UNFINISHED = ".part"
_OLD_S = 3600  # an unfinished file older than an hour was left by a program that was stopped


def open_record(path: str | Path) -> Reconstruction:
    """Return the reconstruction a record file holds.

    Parameters
    ----------
    path : str or pathlib.Path
        A YAML file.

    Returns
    -------
    Reconstruction
        All that is kept.

    Raises
    ------
    FileError
        If the file cannot be read.
    RecordError
        If it does not keep the format.

    Examples
    --------
    >>> open_record("no such record.yaml")
    Traceback (most recent call last):
    reconlab.errors.FileError: no such record.yaml: there is no such file. Check the name and the folder.
    """
    path = Path(path)
    text = _text(path)
    if text.strip():
        return parse(text, str(path))
    raise RecordError("the file is empty", str(path), _bring_back(path) or "Delete it, and begin a new record.")


def save(reconstruction: Reconstruction, path: str | Path) -> None:
    """Keep a reconstruction on disk; the state it replaces becomes the last of its past states.

    The file is never half written, whatever stops the program. Comments a person wrote in the file stay as long
    as the keys they stand at. Nothing is written where nothing changed.

    Parameters
    ----------
    reconstruction : Reconstruction
        All that is to be kept.
    path : str or pathlib.Path
        The file; made if absent.

    Raises
    ------
    FileError
        If the file cannot be written; the old one is then as it was.
    RecordError
        If the reconstruction could not be read again.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     path = Path(folder, "violet-powder.yaml")
    ...     save(Reconstruction(title="Violet powder"), path)
    ...     save(Reconstruction(title="Violet Powder"), path)
    ...     open_record(path).title, [state.name for state in past_states(path)]
    ('Violet Powder', ['0001.yaml'])
    """
    path = Path(path)
    if path.is_dir():
        raise _cannot(path, IsADirectoryError(errno.EISDIR, ""))
    try:
        target = path.resolve()  # behind a link, the file itself
        old = target.read_bytes() if target.exists() else None
        new = _new_text(reconstruction, old, str(path)).encode()
        if new != old:
            _refuse_read_only(target)
            _remember(target, old)
            _put_in_place(target, new)
    except OSError as fault:
        raise _cannot(path, fault) from fault


def past_states(path: str | Path) -> tuple[Path, ...]:
    """Return the files of a record's past states, the oldest first; the last is the backup.

    Parameters
    ----------
    path : str or pathlib.Path
        The record.

    Returns
    -------
    tuple of pathlib.Path
        Empty for a record that never changed.

    Examples
    --------
    >>> past_states("no such record.yaml")
    ()
    """
    found = [state for state in _past(Path(path)).glob("*.yaml") if state.stem.isdecimal()]
    return tuple(sorted(found, key=lambda state: int(state.stem)))


def step_back(path: str | Path) -> Reconstruction:
    """Put the last past state in the record's place, and return it.

    What it replaces stays in the folder of past states as ``undone.yaml`` until the next step back.

    Parameters
    ----------
    path : str or pathlib.Path
        The record.

    Returns
    -------
    Reconstruction
        The record as it is now.

    Raises
    ------
    FileError
        If there is no past state, or a file cannot be written.

    Examples
    --------
    >>> step_back("no such record.yaml")
    Traceback (most recent call last):
    reconlab.errors.FileError: no such record.yaml: it has no past state. There is nothing to undo.
    """
    path = Path(path)
    try:
        target = path.resolve()
        now = target.read_bytes() if target.is_file() else b""
        states = [*past_states(target)]
        while states and states[-1].read_bytes() == now:  # the program was stopped between copying and replacing
            states.pop().unlink()
        if not states:
            raise FileError("it has no past state", str(path), "There is nothing to undo.")
        made = open_record(states[-1])
        _refuse_read_only(target)
        if now:
            _put_in_place(_past(target) / "undone.yaml", now, like=target)
            states[-1].chmod(target.stat().st_mode)
        states[-1].replace(target)
        _flush_folder(target.parent)
    except OSError as fault:
        if isinstance(fault, FileError):
            raise
        raise _cannot(path, fault) from fault
    return made


def _text(path: Path) -> str:
    try:
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = fault.object.count(b"\n", 0, fault.start) + 1
        byte = f"byte {fault.object[fault.start]:#04x} is no UTF-8"
        raise RecordError(byte, f"{path}, line {line}", "Save the file as UTF-8 in your editor.") from fault
    except OSError as fault:
        raise _cannot(path, fault) from fault


def _new_text(reconstruction: Reconstruction, old: bytes | None, where: str) -> str:
    """Return the text to write, after reading it back: what could not be opened again is never written."""
    text = dump(reconstruction)
    if plain(parse(text, where)) != plain(reconstruction):
        raise RecordError(
            "the record would read otherwise than it was", where, "Nothing was written; please report this."
        )
    return _with_comments(reconstruction, old) or text


def _with_comments(reconstruction: Reconstruction, old: bytes | None) -> str:
    """Return the text with the comments of the old file, or nothing where none can be kept."""
    if old is None or b"#" not in old:
        return ""
    try:
        before = old.decode("utf-8-sig")
        text = write_over(before, plain(parse(before)), plain(reconstruction))
        same = plain(parse(text)) == plain(reconstruction)
    except Exception:  # noqa: BLE001 - a comment never stops a save; the old file is the last past state
        return ""
    return text if same else ""


def _past(path: Path) -> Path:
    return path.with_suffix(".past")


def _remember(path: Path, old: bytes | None) -> None:
    """Copy the state that is to be replaced behind the past states, unless it is the last of them already."""
    states = past_states(path)
    if old is None or (states and states[-1].read_bytes() == old):
        return
    number = int(states[-1].stem) + 1 if states else 1
    _past(path).mkdir(exist_ok=True)
    _put_in_place(_past(path) / f"{number:04}.yaml", old, like=path)


def _refuse_read_only(path: Path) -> None:
    """Refuse to put another in the place of a file a person made read-only: the folder alone would allow it."""
    if path.exists() and not (path.stat().st_mode & 0o222 and os.access(path, os.W_OK)):
        raise PermissionError(errno.EACCES, "it is read-only")


def _put_in_place(path: Path, content: bytes, like: Path | None = None) -> None:
    """Write a file whole or not at all, to be read by those who may read the one it is like."""
    like = like or path
    _clear_unfinished(path)
    unfinished = path.with_name(f".{path.name}.{secrets.token_hex(4)}{_UNFINISHED}")
    try:
        with unfinished.open("xb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        if like.exists():
            unfinished.chmod(like.stat().st_mode)
        unfinished.replace(path)
    except BaseException:
        with contextlib.suppress(OSError):
            unfinished.unlink(missing_ok=True)
        raise
    _flush_folder(path.parent)


def _clear_unfinished(path: Path) -> None:
    for left in path.parent.glob(f".{path.name}.*{_UNFINISHED}"):
        with contextlib.suppress(OSError):
            if time.time() - left.stat().st_mtime > _OLD_S:
                left.unlink()


def _flush_folder(folder: Path) -> None:
    """Force the new name to disk, where the operating system can do that for a folder."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _bring_back(path: Path) -> str:
    states = past_states(path)
    return f"Its last past state is {states[-1]}." if states else ""


def _cannot(path: Path, fault: OSError) -> FileError:
    """Return what the operating system said as found, where, what to do."""
    if path.is_dir():
        return FileError("this is a folder", str(path), "Name the record's file, such as violet-powder.yaml.")
    if isinstance(fault, PermissionError):
        remedy = "Close it in other programs and check that you may write there."
        return FileError("it may not be read or written", str(path), remedy)
    if not path.parent.is_dir():
        return FileError(f"there is no folder {path.parent}", str(path), "Make the folder first.")
    if isinstance(fault, FileNotFoundError):
        remedy = _bring_back(path) or "Check the name and the folder."
        return FileError("there is no such file", str(path), remedy)
    said = (fault.strerror or str(fault)).rstrip(".")
    return FileError(f"it cannot be read or written ({said})", str(path), "Mend that; the record is as it was.")
