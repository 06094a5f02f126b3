"""The bytes of a file as text: which code they are in, said where it is not UTF-8, and what is no text at all."""

from __future__ import annotations

import codecs
import unicodedata
from collections.abc import Callable

from reconlab.errors import FileError

# How the files begin that programs write for themselves, and what to do with each.
_KINDS = {
    b"%PDF": ("a PDF", "Copy its words into a plain text file; of a scanned page, save the page as a picture."),
    b"PK\x03\x04": ("a Word document or another packed file", "Open it and save it as plain text, in UTF-8."),
    b"\xd0\xcf\x11\xe0": ("an old Word or Excel file", "Open it and save it as plain text, in UTF-8."),
    b"{\\rtf": ("rich text", "Open it and save it as plain text, in UTF-8."),
    b"\x89PNG": ("a picture", "Give it the ending .png: then it is read as a picture."),
    b"\xff\xd8\xff": ("a picture", "Give it the ending .jpg: then it is read as a picture."),
}
_WIDE = {codecs.BOM_UTF16_LE: "utf-16", codecs.BOM_UTF16_BE: "utf-16"}
_WESTERN = "cp1252"  # what Windows writes, and Latin-1 but for signs no page prints
_PLAIN = "UTF-8"
_SAMPLE = 2_000  # bytes
_MOST_ODD = 0.02  # share of signs that no page prints
_FEW = 4  # one odd sign in so many tells of another code
_QUOTES = "\N{SINGLE LOW-9 QUOTATION MARK}\N{DOUBLE LOW-9 QUOTATION MARK}"  # inside a word
_OF_THE_NORTH = "\N{LATIN SMALL LETTER THORN}\N{LATIN CAPITAL LETTER THORN}\N{LATIN SMALL LETTER ETH}"
_PRINTED = ("L", "N", "P", "Z")  # kinds of signs a page prints
_SIGNS = "\n\r\t\f\N{DEGREE SIGN}\N{POUND SIGN}\N{CENT SIGN}+=<>|$^`~\N{MULTIPLICATION SIGN}\N{PLUS-MINUS SIGN}"


def decoded(data: bytes, source: str, say: Callable[[str], None]) -> str:
    """Return the text of a file.

    Parameters
    ----------
    data : bytes
        What stands in it.
    source : str
        Its name, for what is said of it.
    say : callable
        Takes the note on a file that is not in UTF-8.

    Returns
    -------
    str
        Its words.

    Raises
    ------
    FileError
        If it is a file of a program, or in a code that is not sure.

    Examples
    --------
    >>> decoded("Teinture d'iris, 2 gros; crème".encode("cp1252"), "page.txt", print)
    page.txt is not in UTF-8: read as cp1252, the code of Windows; look its accents and fractions through
    "Teinture d'iris, 2 gros; crème"
    """
    for begins, (kind, remedy) in _KINDS.items():
        if data.startswith(begins):
            raise FileError(f"this is {kind}, no plain text", source, remedy)
    code = _wide(data)
    try:
        if not code:
            return data.decode("utf-8-sig")
        fault_at = 0
    except UnicodeDecodeError as fault:
        fault_at = fault.start
    text = _in_code(data, code or _WESTERN)
    if text is None:
        raise FileError(f"byte {fault_at} is not {_PLAIN} text", source, f"Save the file as plain text in {_PLAIN}.")
    called = "UTF-16" if code else f"{_WESTERN}, the code of Windows"
    say(f"{source} is not in {_PLAIN}: read as {called}; look its accents and fractions through")
    return text


def _wide(data: bytes) -> str:
    """Return the code of bytes of which two make a sign, told by their first two or by where the zeros stand."""
    if data[:2] in _WIDE:
        return _WIDE[data[:2]]
    high, low = data[:_SAMPLE:2].count(0), data[1:_SAMPLE:2].count(0)
    some = len(data[:_SAMPLE]) // 4
    return "utf-16-le" if low > max(some, high) else "utf-16-be" if high > max(some, low) else ""


def _in_code(data: bytes, code: str) -> str | None:
    """Return bytes as text in a code, or None where that gives signs no page prints."""
    try:
        text = data.decode(code)
    except UnicodeDecodeError:
        return None
    odd = sum(unicodedata.category(sign)[0] not in _PRINTED and sign not in _SIGNS for sign in text)
    return text if odd <= _MOST_ODD * len(text) and not _is_jumbled(text, code) else None


def _is_jumbled(text: str, code: str) -> bool:
    """Return whether letters with accents stand where no tongue has them: the bytes were in another code."""
    if code != _WESTERN:
        return False
    beyond = [sign for sign in text if not sign.isascii()]
    within = [three for three in zip(text, text[1:], text[2:], strict=False) if not three[1].isascii()]
    odd = sum(
        before.isalpha() and behind.isalpha() and (sign in _QUOTES or (before.islower() and sign.isupper()))
        for before, sign, behind in within
    )
    return _FEW * (odd + sum(sign in _OF_THE_NORTH for sign in beyond)) >= len(beyond) > 0
