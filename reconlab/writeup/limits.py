"""What a page does not know: said as plainly as what it does."""

from __future__ import annotations

from collections.abc import Iterator

from reconlab.materia import thing
from reconlab.writeup.blocks import Block, Listing, Text
from reconlab.writeup.matter import Matter


def limits(matter: Matter) -> Iterator[Block]:
    r"""Give what the page does not know.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.

    Yields
    ------
    Block
        One list.

    Examples
    --------
    >>> from reconlab.record import Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> found = next(limits(gathered(Reconstruction(transcription="Starch, 3 oz.\nOrris root, 1 oz."))))
    >>> "how it feels" in "".join(found.items[-1])
    True
    """
    yield Listing(tuple(_said(matter)))


def _said(matter: Matter) -> Iterator[Text]:
    unknown = [thing(key).name for key in matter.literal.substances if not thing(key).identified]
    if unknown:
        yield (f"Not identified: {', '.join(unknown)}. Neither what it does to skin nor what law says is known.",)
    if matter.literal.open_questions():
        yield ("The ranges stand for what is named as still open, and for nothing else.",)
    if matter.record.use is None:
        yield ("Whether it may touch skin: no use was stated, so nothing was looked up.",)
    if not any(batch.made_on for batch in matter.record.batches):
        seen = "; what was seen is told above" if matter.record.observations else ", worn or seen"
        yield (f"No batch is recorded as made: nothing here was weighed{seen}.",)
    yield ("Grade, age and make of what was bought then are not known; figures are for the substance on file.",)
    yield ("How long it keeps, how it feels and how it looks are not reckoned here.",)
