"""Fixtures the tests share."""

import os
import re
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest

PATIENCE_S = 60  # for a server to answer, and to end


@dataclass(frozen=True)
class Served:
    """A Jupyter that `reconlab lab` has opened."""

    opens: str  # the address it says, with its token
    process: int

    @property
    def address(self) -> str:
        return "/".join(self.opens.split("/")[:3])

    @property
    def token(self) -> str:
        return self.opens.partition("token=")[2]


@contextmanager
def _served(home: Path, *words: str) -> Iterator[Served]:
    home.mkdir(parents=True)
    own = {f"JUPYTER_{what}_DIR": str(home / what) for what in ("CONFIG", "DATA", "RUNTIME")}
    own |= {f"JUPYTERLAB_{what}_DIR": str(home / what) for what in ("SETTINGS", "WORKSPACES")}
    own |= {"IPYTHONDIR": str(home / "ipython"), "PYTHONUNBUFFERED": "1"}
    (home / "CONFIG").mkdir()
    (home / "CONFIG" / "jupyter_server_config.json").write_text('{"ServerApp": {"allow_root": true}}', encoding="utf-8")
    command = [sys.executable, "-c", "from reconlab.cli import main; main()", "lab", "--no-browser", *words]
    log = home / "server.log"
    with log.open("w", encoding="utf-8") as out:
        server = subprocess.Popen(command, env=os.environ | own, stdout=out, stderr=subprocess.STDOUT)
        served = None
        try:
            end = time.monotonic() + PATIENCE_S
            while not (served and _answers(f"{served.address}/api")):  # it says where it is before it listens
                assert time.monotonic() < end, log.read_text(encoding="utf-8")
                assert server.poll() is None, log.read_text(encoding="utf-8")
                said = re.search(r"http://localhost:\d+\S+token=\w+", log.read_text(encoding="utf-8"))
                served = Served(said[0], server.pid) if said else None
                time.sleep(0.05)
            yield served
        finally:
            # By its own door, so that its kernels end with it; by force where nobody opens.
            if not (served and _answers(f"{served.address}/api/shutdown?token={served.token}", method="POST")):
                server.terminate()
            server.wait(PATIENCE_S)


def _answers(address: str, method: str = "GET") -> bool:
    try:
        urllib.request.urlopen(urllib.request.Request(address, method=method)).close()
    except urllib.error.URLError:
        return False
    return True


@pytest.fixture(scope="session", autouse=True)
def _apart(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep what Jupyter remembers of notebooks out of the home of whoever runs the tests."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("JUPYTER_DATA_DIR", str(tmp_path_factory.mktemp("jupyter-data")))
        yield


@pytest.fixture(scope="session")
def project() -> Path:
    """Return the folder of the checkout."""
    return Path(__file__).parents[1]


@pytest.fixture(scope="session")
def served() -> Callable[..., AbstractContextManager[Served]]:
    """Return what runs `reconlab lab`, given a folder for Jupyter's own files and the words that follow the verb.

    Its settings, its past and its kernels' are its own: whatever the machine has of Jupyter is out of sight.
    """
    return _served
