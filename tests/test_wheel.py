"""Build the distribution, install it away from the checkout, and run it there."""

import os
import subprocess
import sys
import sysconfig
import tarfile
from dataclasses import dataclass
from pathlib import Path

import pytest

SHIPPED = ["reference_tables", "notebooks"]  # folders of the checkout that travel inside the package
Run = subprocess.CompletedProcess[str]


@dataclass(frozen=True)
class Installed:
    """A fresh environment that holds the wheel, and nothing of the checkout."""

    scripts: Path
    library: Path
    elsewhere: Path  # a folder outside the checkout

    def run(self, program: str, *words: str) -> Run:
        """Run a program of the environment from outside the checkout."""
        clean = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
        command = [self.scripts / program, *words]
        return subprocess.run(command, cwd=self.elsewhere, env=clean, capture_output=True, text=True, check=False)


@pytest.fixture(scope="module")
def built(project: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the built sdist and of the wheel made from it; needs no network."""
    folder = tmp_path_factory.mktemp("dist")
    command = [sys.executable, "-m", "build", "--no-isolation", "--outdir", folder, project]
    made = subprocess.run(command, capture_output=True, text=True, check=False)
    assert made.returncode == 0, made.stdout + made.stderr
    return folder


@pytest.fixture(scope="module")
def installed(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Installed:
    """Install the wheel alone in a fresh environment.

    The libraries it needs are lent by a .pth file, so that the test is quick and works offline. Such a file
    adds folders only and follows no .pth in them: the checkout, itself installed by one, stays out of sight.
    """
    home = tmp_path_factory.mktemp("environment")
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", home], check=True)
    scripts = home / ("Scripts" if os.name == "nt" else "bin")
    (wheel,) = built.glob("*.whl")
    pip = [sys.executable, "-m", "pip", "--python", scripts / "python", "install", "--no-deps", "--no-index"]
    subprocess.run([*pip, "--quiet", wheel], check=True)
    library = Path(sysconfig.get_path("purelib", vars={"base": str(home), "platbase": str(home)}))
    lent = dict.fromkeys([sysconfig.get_path("purelib"), sysconfig.get_path("platlib")])
    (library / "lent.pth").write_text("\n".join(lent), encoding="utf-8")
    return Installed(scripts, library, tmp_path_factory.mktemp("elsewhere"))


def files_under(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and not any(part.startswith(".") or part == "__pycache__" for part in path.parts[-3:])
    }


def test_sdist_holds_the_project_and_nothing_else(built: Path) -> None:
    (sdist,) = built.glob("*.tar.gz")
    with tarfile.open(sdist) as archive:
        tops = {name.split("/")[1] for name in archive.getnames()}
    wanted = {"reconlab", "tests", *SHIPPED, "README.md", "LICENSE", "constraints.txt", "pyproject.toml"}
    assert wanted <= tops
    assert {top for top in tops - wanted if not top.endswith((".md", ".cff"))} == {".gitignore", "PKG-INFO"}


@pytest.mark.parametrize("folder", SHIPPED)
def test_wheel_holds_the_folders_as_they_are(project: Path, installed: Installed, folder: str) -> None:
    assert files_under(installed.library / "reconlab" / folder) == files_under(project / folder)


def test_the_package_comes_from_the_wheel(installed: Installed) -> None:
    where = installed.run("python", "-c", "import reconlab; print(reconlab.__file__)")
    assert Path(where.stdout.strip()).parent == installed.library / "reconlab", where.stderr


def test_demo_runs_from_the_wheel(installed: Installed) -> None:
    demo = installed.run("reconlab", "demo")
    assert demo.returncode == 0, demo.stderr
    assert demo.stdout.strip()


def test_demo_reads_the_tables_of_the_wheel(installed: Installed) -> None:
    tables = installed.library / "reconlab" / "reference_tables"
    hidden = tables.rename(tables.with_name("hidden"))
    try:
        demo = installed.run("reconlab", "demo")
    finally:
        hidden.rename(tables)
    assert demo.returncode != 0, "the demo ran without its tables: it found others"
