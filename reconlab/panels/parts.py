"""The words panels are built of: labelled fields, tables, cards, buttons, groups.

Every control has a label tied to it and is reached by keyboard; what it is for stands in its title, which a mouse
shows and screen readers take as its description. Nothing here knows the trade.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from html import escape
from typing import Any

import ipywidgets as widgets

from reconlab.display import Card, Shown, Table
from reconlab.errors import InputError

_WIDE = "1 1 14rem"  # a field shares its row until it would be narrower than this

# JupyterLab takes arrow keys and letters on a list or button for its own (an arrow leaves the cell, "d d" deletes it):
# it is told to leave them alone there. In text fields it does so by itself, and its own Ctrl+S goes on working.
# The widgets give a title to buttons alone: each other control gets its own when it is met.
_ON_LOAD = """
const panel = this.closest('.rl-panel'), abouts = %s;
const tell = (place) => {
  const number = /rl-about-(\\d+)/.exec(place?.className ?? '')?.[1];
  number && place.querySelectorAll('input, select, textarea').forEach((field) => field.title = abouts[number]);
};
if (panel) {
  panel.addEventListener('focusin', ({target}) =>
    target.toggleAttribute('data-lm-suppress-shortcuts', !target.matches('textarea, input[type=text]')));
  for (const met of ['focusin', 'mouseover'])
    panel.addEventListener(met, ({target}) => tell(target.closest('[class*=rl-about-]')));
  setTimeout(() => panel.querySelectorAll('[class*=rl-about-]').forEach(tell), 1000);
}"""

# The page's own ink and ground: no colour is set, so that it reads in a dark theme and in print.
_LOOKS = """
.rl-panel, .rl-panel * {box-sizing: border-box}
.rl-panel {max-width: 62rem; padding: 0 2px 1rem}
.rl-panel .widget-inline-hbox.rl-field {flex-direction: column; align-items: stretch; height: auto; margin: 2px 0}
.rl-panel .rl-field > .widget-label {width: auto; max-width: none; text-align: left; white-space: normal; height: auto;
  line-height: 1.4; margin: 0}
.rl-panel .rl-field > input, .rl-panel .rl-field > select, .rl-panel .rl-field > textarea {width: 100%; flex: none}
.rl-panel .rl-field > select {height: 28px; appearance: auto; background-image: none}
.rl-panel .rl-field > textarea {line-height: 1.5; resize: vertical}
.rl-panel .rl-choice .widget-radio-box {width: 100%; max-width: none; height: auto; margin: 0}
.rl-panel .rl-choice .widget-radio-box label {height: auto; white-space: normal; line-height: 1.4; width: auto;
  padding: 3px 0; font-size: inherit; align-items: baseline}
.rl-panel .jupyter-button {width: auto; height: auto; min-height: 28px; white-space: normal}
.rl-panel :focus-visible {outline: 2px solid currentColor; outline-offset: 2px}
.rl-panel .widget-html {margin: 2px 0; height: auto; overflow: visible}
.rl-panel .widget-html-content {line-height: 1.5; overflow-x: auto}
.rl-panel .widget-html-content figure {margin: 0.5rem 0; max-width: 32rem}
.rl-panel .widget-radio-box label {display: flex; align-items: flex-start; gap: 0.4em}
.rl-panel .widget-radio-box label > input {flex: none; order: -1; margin-top: 0.2em}
.rl-panel .widget-html-content h3 {margin: 1rem 0 0.25rem}
.rl-panel .widget-html-content p.rl-message {margin: 0; min-height: 1.5em}
.rl-panel .widget-html-content p.rl-fault {border-left: 3px solid currentColor; padding-left: 0.6em}
.rl-panel .widget-html-content th, .rl-panel .widget-html-content td {text-align: left; vertical-align: top}
.rl-panel .widget-html-content table {margin: 0.25rem 0 0.75rem}
.rl-panel .widget-html-content caption {text-align: left; font-weight: bold}
@media (max-width: 1000px) {  /* no room for five columns: each row is told cell by cell */
  .rl-panel table:has(td:nth-child(4)) thead {display: none}
  .rl-panel table:has(td:nth-child(4)) :is(tbody, tr, th, td) {display: block; padding: 0 0 2px}
  .rl-panel table:has(td:nth-child(4)) td:empty {display: none}
  .rl-panel table:has(td:nth-child(4)) tr {padding: 4px 0}
  .rl-panel table:has(td:nth-child(4)) td::before {content: attr(data-head)}
}
"""


def style(controls: Sequence[Any]) -> Any:  # noqa: ANN401 - widgets have no types
    """Return what gives a panel its looks and its controls their titles; it stands first in the panel.

    Parameters
    ----------
    controls : sequence of ipywidgets.Widget
        Every control of the panel, each with its tooltip.

    Returns
    -------
    ipywidgets.HTML
        Nothing to be seen.

    Examples
    --------
    >>> field = line("Year", about="When it was printed.")
    >>> "When it was printed." in style([field]).value
    True
    """
    for number, control in enumerate(controls):
        control.add_class(f"rl-about-{number}")
    script = _ON_LOAD.replace("%s", json.dumps([control.tooltip for control in controls]))
    return widgets.HTML(f'<style onload="{escape(script)}">{_LOOKS}</style>')


def line(label: str, *, about: str, value: str = "", example: str = "", each_key: bool = False) -> Any:  # noqa: ANN401 - widgets have no types
    """Return a field for a line of text.

    Parameters
    ----------
    label : str
        What it is called.
    about : str
        What it is for, in a sentence.
    value : str
        What stands in it.
    example : str
        Shown while it is empty.
    each_key : bool
        Whether it tells of each key, to be saved as it is typed; else it tells when it is left, so that a button
        pressed next finds the whole of it, however busy the notebook is.

    Returns
    -------
    ipywidgets.Text
        The field.

    Examples
    --------
    >>> line("Year", about="Of the book.").description
    'Year'
    """
    return _field(widgets.Text(value=value, placeholder=example, continuous_update=each_key, **told(label, about)))


def page(label: str, *, about: str, value: str = "", example: str = "") -> Any:  # noqa: ANN401
    """Return a field for a page of text.

    Parameters
    ----------
    label : str
        What it is called.
    about : str
        What it is for, in a sentence.
    value : str
        What stands in it.
    example : str
        Shown while it is empty.

    Returns
    -------
    ipywidgets.Textarea
        Tells of each key.

    Examples
    --------
    >>> page("The receipt", about="As printed.", value="Starch, 3 oz.").value
    'Starch, 3 oz.'
    """
    return _field(widgets.Textarea(value=value, placeholder=example, rows=9, **told(label, about)))


def pick(label: str, options: Iterable[str], *, about: str, nothing: str = "") -> Any:  # noqa: ANN401
    """Return a list to pick one word from.

    Parameters
    ----------
    label : str
        What it is called.
    options : iterable of str
        The words.
    about : str
        What it is for, in a sentence.
    nothing : str
        How "nothing picked" reads, as the first of the list; empty where one must be picked.

    Returns
    -------
    ipywidgets.Dropdown
        Its value is the word; empty where nothing is picked.

    Examples
    --------
    >>> pick("Law", ["EU"], about="Asked about.", nothing="none").options
    (('none', ''), ('EU', 'EU'))
    """
    words = [(nothing, ""), *((word, word) for word in options)] if nothing else [(word, word) for word in options]
    return _field(widgets.Dropdown(options=tuple(words), **told(label, about)))


def tick(label: str, *, about: str) -> Any:  # noqa: ANN401
    """Return a box to tick.

    Parameters
    ----------
    label : str
        What it says.
    about : str
        What it is for, in a sentence.

    Returns
    -------
    ipywidgets.Checkbox
        Not ticked.

    Examples
    --------
    >>> tick("For the whole book", about="Remembered.").value
    False
    """
    return widgets.Checkbox(value=False, indent=False, layout={"width": "auto"}, **told(label, about))


def button(label: str, *, about: str) -> Any:  # noqa: ANN401
    """Return a button; say by its ``on_click`` what it does.

    Parameters
    ----------
    label : str
        What it does.
    about : str
        What it does, in a sentence.

    Returns
    -------
    ipywidgets.Button
        Pressed by mouse, Enter or Space.

    Examples
    --------
    >>> button("Undo", about="Takes the last step back.").description
    'Undo'
    """
    return widgets.Button(description=label, tooltip=about)


def row(*inside: object) -> Any:  # noqa: ANN401
    """Return controls side by side, one under another where there is no room.

    Parameters
    ----------
    *inside : ipywidgets.Widget
        The controls.

    Returns
    -------
    ipywidgets.HBox
        In the order given.

    Examples
    --------
    >>> len(row(tick("a", about="A."), tick("b", about="B.")).children)
    2
    """
    return widgets.HBox(inside, layout={"flex_flow": "row wrap", "align_items": "flex-end", "grid_gap": "2px 12px"})


def group(title: str, *inside: object) -> Any:  # noqa: ANN401
    """Return controls that belong together under a heading.

    Parameters
    ----------
    title : str
        The heading.
    *inside : ipywidgets.Widget
        The controls.

    Returns
    -------
    ipywidgets.VBox
        The heading first.

    Examples
    --------
    >>> group("The page").children[0].value
    '<div class="jp-RenderedHTMLCommon"><h3>The page</h3></div>'
    """
    return widgets.VBox((widgets.HTML(common(f"<h3>{escape(title)}</h3>")), *inside))


def sheet() -> Any:  # noqa: ANN401
    """Return a place to show a card or a table in; fill it by `show`.

    Returns
    -------
    ipywidgets.HTML
        Empty.

    Examples
    --------
    >>> sheet().value
    ''
    """
    return widgets.HTML()


def show(place: Any, what: Card | Table | Shown | None) -> None:  # noqa: ANN401
    """Show a card or a table in a sheet, or nothing.

    Parameters
    ----------
    place : ipywidgets.HTML
        The sheet.
    what : Card, Table, Shown or None
        What is shown in it.

    Examples
    --------
    >>> place = sheet()
    >>> show(place, Card("Powder"))
    >>> place.value
    '<div class="jp-RenderedHTMLCommon"><section><h3>Powder</h3></section></div>'
    """
    card = Card("", tables=(what,)) if isinstance(what, Table) else what.card() if isinstance(what, Shown) else what
    html = "" if card is None else common(card.html(labelled=True).replace("<h3></h3>", ""))
    if place.value != html:  # what has not changed keeps its opened chains
        place.value = html


def figure_of(text: str, *, where: str) -> float:
    """Return the figure a person wrote in a field.

    Parameters
    ----------
    text : str
        What stands in the field; a comma may stand for the point.
    where : str
        Label of the field.

    Returns
    -------
    float
        The figure.

    Raises
    ------
    InputError
        If it is no figure.

    Examples
    --------
    >>> figure_of("0,5", where="How much")
    0.5
    """
    try:
        return float(text.strip().replace(",", "."))
    except ValueError as fault:
        raise InputError(f"{text!r} is no figure", where, "Write it in digits, such as 0.5.") from fault


def offer(place: Any, options: Sequence[tuple[str, str]], keep: str | None = None) -> None:  # noqa: ANN401
    """Put other words into a list; what was picked stays picked where it is still there.

    Parameters
    ----------
    place : ipywidgets.Dropdown
        The list.
    options : sequence of (str, str)
        What is shown, and the value it stands for.
    keep : str, optional
        The value to pick, where it is there, in place of the one picked now.

    Examples
    --------
    >>> place = pick("Version", ["literal"], about="Shown.")
    >>> offer(place, [("literal", "literal"), ("safe", "safe")], keep="safe")
    >>> place.value
    'safe'
    """
    wanted = place.value if keep is None else keep
    values = [value for _, value in options]
    if tuple(place.options) != tuple(options):
        place.options = tuple(options)
    place.value = wanted if wanted in values else next(iter(values), None)


def told(label: str, about: str) -> dict[str, Any]:
    """Return what gives a control its label and its description.

    Parameters
    ----------
    label : str
        What it is called.
    about : str
        What it is for, in a sentence.

    Returns
    -------
    dict
        Arguments for the control.

    Examples
    --------
    >>> told("Year", "Of the book.")["description"]
    'Year'
    """
    return {"description": label, "tooltip": about, "style": {"description_width": "auto"}}


def common(html: str) -> str:
    """Return HTML that takes the notebook's own looks for tables and text.

    Parameters
    ----------
    html : str
        What is shown.

    Returns
    -------
    str
        The same, inside an element the notebook knows.

    Examples
    --------
    >>> common("<p>ready</p>")
    '<div class="jp-RenderedHTMLCommon"><p>ready</p></div>'
    """
    return f'<div class="jp-RenderedHTMLCommon">{html}</div>'


def _field(made: Any) -> Any:  # noqa: ANN401
    made.add_class("rl-field")
    made.layout.flex, made.layout.width = _WIDE, "auto"
    return made
