"""A handed-out block to which facts are told through the main flow itself, without the commands."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from planner import known
from planner.cli.facts import fact_from
from planner.flow import Result, Settings
from planner.replan import Replanned, replan, tell


def at(text: str) -> Settings:
    """Settings of a command given at this moment in the block's zone."""
    moment = datetime.fromisoformat(text)
    return Settings(lambda zone: moment.replace(tzinfo=ZoneInfo(zone)), budget="quick")


def not_printed(file: Path, ledger: object, result: Result, *rest: object, **more: object) -> Result:
    """Paper has tests of its own."""
    return result


class Week:
    """The block of one test: facts are told to it, then it is planned anew."""

    def __init__(self, folder: Path) -> None:
        self.file = folder / "block.yaml"
        self.before = known.planned(self.file)[1].placements

    def tell(self, when: str, kind: str, *words: str) -> None:
        settings = at(when)
        fact = fact_from(kind, list(words), settings.now("Europe/London"))
        tell(self.file, [fact], settings)

    def miss(self, who: str, day: date) -> None:
        """Everything of one athlete's day, told in the evening as missed."""
        for p in self.before:
            if (p.athlete, p.day) == (who, day):
                self.tell(f"{day} 20:00", "done", f"athlete={who}", f"day={p.day}", f"slot={p.slot}",
                          f"unit={p.unit.id}", f"word={p.dose.word}", "remark=missed")  # fmt: skip

    def replan(self, when: str) -> Replanned:
        return replan(self.file, at(when))
