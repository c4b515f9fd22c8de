"""Views to HTML. Autoescape is on: whatever stands in a coach's file is text, never markup."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from functools import cache, cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from planner.sheets.looks import LOOKS, strip, tile
from planner.sheets.paper import RUNNING_MM, Paper
from planner.sheets.view_athlete import AthleteView
from planner.sheets.view_board import BoardView
from planner.sheets.view_coach import CoachView
from planner.sheets.view_competition import CompetitionView
from planner.sheets.view_look_back import LookBackView
from planner.sheets.view_measuring import MeasuringView
from planner.sheets.view_notice import NoticeView
from planner.sheets.view_parents import ParentsView
from planner.sheets.view_run_up import RunUpView

if TYPE_CHECKING:
    from jinja2 import Environment

View = (
    AthleteView | BoardView | NoticeView | RunUpView | MeasuringView | CompetitionView | CoachView | LookBackView
    | ParentsView
)

TEMPLATES: Mapping[type[View], tuple[str, str]] = {
    AthleteView: ("athlete.html", "athlete.css"),
    BoardView: ("board.html", "board.css"),
    NoticeView: ("notice.html", "notice.css"),
    CoachView: ("coach.html", "coach.css"),
    LookBackView: ("look_back.html", "look_back.css"),
    CompetitionView: ("competition.html", "card.css"),
    MeasuringView: ("measuring.html", "measuring.css"),
    ParentsView: ("parents.html", "parents.css"),
    RunUpView: ("run_up.html", "card.css"),
}


class Pages:
    """The templates of one folder, read once. `addresses` are all data addresses the sheets may use."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        tiles = {look.css: tile(look, folder) for look in LOOKS}
        ruler = strip(folder)
        self.addresses = frozenset((*tiles.values(), ruler))
        self._own = {"measuring.css": f".strip {{ background-image: url({ruler}) }}"}
        self._looks = "\n".join(
            f".{look.css} {{ background-color: {look.colour}; color: {look.letter_colour} }}\n"
            + f".{look.css}-bar {{ {_fill(look.pattern, look.colour, tiles[look.css])} }}"
            for look in LOOKS
        )

    @cached_property
    def assets_sum(self) -> str:
        """The SHA-256 sum of every template, style, pattern and font."""
        found = hashlib.sha256()
        for path in sorted(p for p in self.folder.rglob("*") if p.is_file()):
            content = path.read_bytes()
            found.update(f"{path.relative_to(self.folder).as_posix()} {len(content)}\0".encode() + content)
        return found.hexdigest()

    def html(self, view: View, paper: Paper) -> str:
        """The sheet of a view."""
        template, style = TEMPLATES[type(view)]
        return self._render(template, style, view=view, paper=paper)

    def _render(self, template: str, style: str, **said: object) -> str:
        from markupsafe import Markup

        css = "\n".join(
            [
                (self.folder / "base.css").read_text(encoding="utf-8"),
                (self.folder / style).read_text(encoding="utf-8"),
                self._looks,
                self._own.get(style, ""),
            ]
        )
        # the style sheets are our own files; everything else passes through autoescape
        return (
            _environment(self.folder).get_template(template).render(css=Markup(css), running_mm=RUNNING_MM, **said)
        )


def _fill(pattern: str, colour: str, address: str) -> str:
    """Flat families use a plain colour: a tiled flat picture shows seams in some viewers."""
    if pattern in ("solid", "pale"):
        return f"background-color: {colour}"
    return f"background-color: #FFFFFF; background-image: url({address})"


@cache
def _environment(folder: Path) -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(
        loader=FileSystemLoader(folder),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
