"""How is the record of a desk kept? One file, one writer, each state whole on disk before it is shown."""

from __future__ import annotations

import hashlib
from datetime import datetime
from pathlib import Path

from filelock import FileLock, Timeout

from reconlab.display import Shown
from reconlab.errors import FileError, InputError
from reconlab.record import Reconstruction, open_record, past_states, save, stamped, step_back
from reconlab.workdesk._next import quoted


class OnFile(Shown):
    """A record at work: its file, who may write it, and how it was last seen."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._lock = FileLock(path.with_name(f".{path.name}.lock"), thread_local=False)
        self._why_not = ("", "")  # why nothing can be written, and what to do
        self.may_write = self._take_lock()
        self.record = Reconstruction()
        self._seen = ""  # checksum of the file as this desk last saw it
        self.saved_at = ""

    def look_again(self) -> bool:
        """Read the record again as it now stands on disk; return whether another program has changed it."""
        self.may_write = self.may_write or self._take_lock()
        if not self.path.exists():
            self._begin()
        self.record = open_record(self.path)
        before, self._seen = self._seen, _checksum(self.path)
        self.saved_at = self.saved_at or _clock(datetime.fromtimestamp(self.path.stat().st_mtime).astimezone())
        self._forget()
        return self._seen != before

    def close(self) -> None:
        """Give the record free for another notebook; the operating system does so too when this one ends."""
        self._lock.release()
        self.may_write = False
        self._why_not = ("this desk was closed", f'Open it again: work = rl.desk("{self.path.name}").')

    @property
    def why_not(self) -> str:
        """Why nothing can be written here, and what to do; empty where it can."""
        return "" if self.may_write else f"{self._why_not[0]}. {self._why_not[1]}"

    def _begin(self) -> None:
        if not self.may_write:
            raise FileError(self._why_not[0], str(self.path), "There is no record here yet to look at.")
        states = past_states(self.path)
        if self._seen or states:  # an empty record in its place would hide that it is gone
            held = "work.record" if self._seen else f"rl.open_record({quoted(str(states[-1]))})"
            back = (
                f"Put it back, or save it again: rl.save({held}, {quoted(str(self.path))}). Then open the desk again."
            )
            raise FileError("the record was moved or deleted; what it held is kept", str(self.path), back)
        self._keep(Reconstruction(title=self.path.stem.replace("-", " ").capitalize()))

    def _take_lock(self) -> bool:
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            self._lock.acquire(timeout=0)
        except Timeout:
            self._why_not = ("another notebook is working on this record", "Close it there; here you can look.")
            return False
        except OSError as fault:
            found = f"nothing can be written beside it ({fault.strerror or fault})"
            self._why_not = (found, "Work in a folder of your own; here you can look.")
            return False
        return True

    def _check(self) -> None:
        """Make sure that nothing of another's is written over."""
        if not self.may_write:
            raise FileError(self._why_not[0], str(self.path), self._why_not[1])
        if self._seen and not self.path.exists():
            self._begin()
        if self._seen and _checksum(self.path) != self._seen:
            found = "the file has been changed by another program"
            remedy = "Look at it, then open the desk again: nothing was written over it."
            raise FileError(found, str(self.path), remedy)

    def _keep(self, record: Reconstruction) -> None:
        self._check()
        record = stamped(record)
        save(record, self.path)
        self.record, self._seen = record, _checksum(self.path)
        self.saved_at = _now()
        self._forget()

    def _take_back(self) -> Reconstruction:
        """Put the last past state in the place of the record; return the record that was there."""
        self._check()
        if not past_states(self.path):
            raise InputError("there is no earlier step", str(self.path), "This is where the record began.")
        before, self.record = self.record, step_back(self.path)
        self._seen, self.saved_at = _checksum(self.path), _now()
        self._forget()
        return before

    def _forget(self) -> None:
        """Forget what was worked out from the record as it stood."""

    @property
    def state(self) -> str:
        """Where the record is kept, when it was last saved, and whether it may be written."""
        where = f"{self.path.name}, saved at {self.saved_at}" if self.saved_at else self.path.name
        return where if self.may_write else f"{where}: {self._why_not[0]}; here you can only look"


def _checksum(path: Path) -> str:
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return "gone"


def _now() -> str:
    return _clock(datetime.now().astimezone())


def _clock(moment: datetime) -> str:
    today = moment.date() == datetime.now().astimezone().date()
    return moment.strftime("%H:%M:%S" if today else "%Y-%m-%d")
