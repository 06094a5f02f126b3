"""Hold every public docstring to the house form."""

import ast
import csv
import importlib
import inspect
import pkgutil
import re
import textwrap
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from numpydoc.docscrape import FunctionDoc

import reconlab

NUMBERS = {"int", "float", "Fraction", "Decimal"}
MANY = re.compile(r"[\w.]*(?:Sequence|Iterable|Collection|list|tuple|set|frozenset|NDArray)\[(.+)\]")
UNIT = re.compile(r"\[[^\]]+\]")

Function = Callable[..., Any]


def modules() -> Iterator[ModuleType]:
    for info in pkgutil.walk_packages(reconlab.__path__, "reconlab."):
        if not any(part.startswith("_") for part in info.name.split(".")):
            yield importlib.import_module(info.name)


def public_functions() -> Iterator[Function]:
    for module in modules():
        for name, found in vars(module).items():
            function = inspect.unwrap(found) if hasattr(found, "__wrapped__") else found  # behind a cache too
            own = inspect.isfunction(function) and function.__module__ == module.__name__
            if own and not name.startswith("_"):
                yield function


def public_methods() -> Iterator[tuple[str, Any]]:
    for module in modules():
        for name, found in vars(module).items():
            own = inspect.isclass(found) and found.__module__ == module.__name__
            if not own or name.startswith("_"):
                continue
            yield f"{module.__name__}.{name}", found
            for member, value in vars(found).items():
                method = getattr(value, "func", None) or getattr(value, "__func__", None) or value
                ours = isinstance(value, property) or getattr(method, "__module__", None) == module.__name__
                if not member.startswith("_") and ours and (callable(method) or isinstance(value, property)):
                    yield f"{module.__name__}.{name}.{member}", method


def is_numeric(annotation: object) -> bool:
    """Return whether a parameter takes a number, or a row of numbers, alone or among other things."""
    text = annotation if isinstance(annotation, str) else inspect.formatannotation(annotation)
    if many := MANY.fullmatch(text.strip()):
        inside = {word.split(".")[-1] for word in re.findall(r"[\w.]+", many[1])} - {"", "None"}
        return bool(inside) and all(word in NUMBERS or word.startswith("float") for word in inside)
    if "|" in text and "[" not in text:
        return any(is_numeric(part) for part in text.split("|"))
    if "|" in text:  # a union with brackets in it: split outside the brackets only
        return any(is_numeric(part) for part in re.split(r"\|(?![^\[]*\])", text) if part != text)
    return text.strip().split(".")[-1] in NUMBERS


def body(function: Function) -> ast.FunctionDef:
    tree = ast.parse(textwrap.dedent(inspect.getsource(function))).body[0]
    assert isinstance(tree, ast.FunctionDef)
    return tree


def raised(function: Function) -> set[str]:
    """Return the errors a body raises by name; a bare `raise` is `""`."""
    names = set()
    for node in ast.walk(body(function)):
        if isinstance(node, ast.Raise):
            exc = node.exc.func if isinstance(node.exc, ast.Call) else node.exc
            name = ast.unparse(exc).split(".")[-1] if exc is not None else ""
            names.add(name if name[:1].isupper() else "")
    return names


def reached(function: Function) -> Iterator[Function]:
    """Yield the functions of the library that a body names, and the makers of the classes it names."""
    inside = function.__globals__
    for node in ast.walk(body(function)):
        found: object = None
        if isinstance(node, ast.Name):
            found = inside.get(node.id)
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            beside = inside.get(node.value.id)
            found = getattr(beside, node.attr, None) if inspect.ismodule(beside) else None
        makers = [vars(found).get("__init__"), vars(found).get("__post_init__")] if inspect.isclass(found) else []
        for candidate in [found, *makers]:
            plain = inspect.unwrap(candidate) if callable(candidate) else None
            if inspect.isfunction(plain) and plain.__module__.split(".")[0] == function.__module__.split(".")[0]:
                yield plain


def may_raise(function: Function) -> bool:
    """Return whether a function, or one it leads to, raises; methods are not followed."""
    seen: set[Function] = set()
    waiting = [function]
    while waiting:
        one = waiting.pop()
        if one not in seen and "<" not in one.__code__.co_filename:  # a dataclass writes functions without source
            seen.add(one)
            if raised(one):
                return True
            waiting += reached(one)
    return False


def faults(function: Function, terms: set[str]) -> list[str]:
    """Return what a docstring lacks, in words."""
    doc = FunctionDoc(function)
    found = []
    documented = {
        name.strip().lstrip("*"): " ".join(field.desc) for field in doc["Parameters"] for name in field.name.split(",")
    }
    signature = inspect.signature(function)
    if list(documented) != list(signature.parameters):
        found.append(f"Parameters are {list(documented)}, the signature has {list(signature.parameters)}")
    for name, parameter in signature.parameters.items():
        if not is_numeric(parameter.annotation):
            continue
        if not UNIT.search(documented.get(name, "")):
            found.append(f"{name}: state its unit, as in 'Mass [g].'")
        if name not in terms:
            found.append(f"{name}: a number whose name is not in terms.csv")
    errors = raised(function)
    listed = {field.type.split(".")[-1] for field in doc["Raises"]}
    if errors and not listed:
        found.append("raises, but has no Raises section")
    elif missing := errors - listed - {""}:
        found.append(f"raises {sorted(missing)}, not in Raises")
    if listed and not may_raise(function):
        found.append("has a Raises section, but nothing it leads to raises")
    if not any(line.lstrip().startswith(">>>") for line in doc["Examples"]):
        found.append("has no example")
    return found


def terms_on_file() -> set[str]:
    path = Path(__file__).parents[1] / "reference_tables" / "terms.csv"
    with path.open(encoding="utf-8", newline="") as lines:
        return {row["term"] for row in csv.DictReader(lines)}


def called(thing: Any) -> str:  # noqa: ANN401 - any function
    return f"{thing.__module__}.{thing.__qualname__}"


@pytest.mark.parametrize("function", list(public_functions()), ids=called)
def test_docstring_states_parameters_units_errors_and_an_example(function: Function) -> None:
    assert faults(function, terms_on_file()) == []


@pytest.mark.parametrize(("name", "thing"), list(public_methods()), ids=str)
def test_public_class_and_method_has_a_docstring(name: str, thing: object) -> None:
    assert (thing.__doc__ or "").strip(), name


def sound(amount: float, sign: str, *rest: str) -> float:
    """Return a mass.

    Parameters
    ----------
    amount : float
        Amount as printed [-].
    sign : str
        Sign as printed.
    *rest : str
        More signs.

    Raises
    ------
    ValueError
        If `amount` is negative.

    Examples
    --------
    >>> sound(1, "gr")
    1
    """
    if amount < 0:
        raise ValueError(sign, rest)
    return amount


def test_a_sound_docstring_passes() -> None:
    assert faults(sound, {"amount"}) == []


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("printed [-].", "printed.", "amount: state its unit"),
        ("sign : str\n    Sign as printed.\n", "", "the signature has"),
        ("Raises\n------\nValueError\n    If `amount` is negative.\n", "", "no Raises section"),
        ("\nValueError\n", "\nLookupError\n", r"raises \['ValueError'\]"),
        (">>> ", "", "no example"),
    ],
)
def test_a_broken_docstring_is_found(monkeypatch: pytest.MonkeyPatch, old: str, new: str, fault: str) -> None:
    text = inspect.cleandoc(sound.__doc__ or "")  # Python 3.13 takes the indent away, earlier ones keep it
    assert old in text
    monkeypatch.setattr(sound, "__doc__", text.replace(old, new))
    assert re.search(fault, "\n".join(faults(sound, {"amount"})))


def calm(sign: str) -> str:
    """Return a sign.

    Parameters
    ----------
    sign : str
        Sign as printed.

    Raises
    ------
    ValueError
        Never.

    Examples
    --------
    >>> calm("gr")
    'gr'
    """
    return sign


def worried(sign: str) -> float:
    return calm_then_sound(sign)


def calm_then_sound(sign: str) -> float:
    return sound(1, calm(sign))


def test_a_promise_to_raise_must_lead_to_a_raise() -> None:
    assert faults(calm, set()) == ["has a Raises section, but nothing it leads to raises"]
    assert may_raise(worried)


def test_a_number_without_a_term_is_found() -> None:
    assert faults(sound, set()) == ["amount: a number whose name is not in terms.csv"]


@pytest.mark.parametrize(
    ("annotation", "numeric"),
    [
        (float, True),
        ("float | None", True),
        ("int | str", True),
        ("Sequence[float]", True),
        ("tuple[float, float] | None", True),
        ("npt.NDArray[np.float64]", True),
        (bool, False),
        ("str | None", False),
        ("Mapping[str, float]", False),
        ("Sequence[str] | None", False),
    ],
)
def test_numbers_are_told_from_other_things(annotation: object, numeric: bool) -> None:  # noqa: FBT001
    assert is_numeric(annotation) is numeric
