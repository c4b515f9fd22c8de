"""A trial of the other leg, told and planned through the commands: few jumps, counted there."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path

from happened import Happens, command

from planner import known
from planner.domain.plan import Placement

ASTA, IVO, SUVI, ELO = "Asta Brunnvik", "Ivo Telmark", "Suvi Ranholm", "Elo Markwist"
ALONE = (IVO, SUVI, ELO)
WEDNESDAY = date(2027, 3, 10)
JUMPS = ("technical-jumps", "full-jumps")
KNEE = (f"athlete={ASTA}", "region=knee", "entered_by=clinician")


def trial(leg: str = "right", day: str = "2027-03-10") -> tuple[str, ...]:
    return ("other-leg", f"athlete={ASTA}", f"day={day}", f"leg={leg}")


def day_with_jumps(placements: Sequence[Placement]) -> date:
    """Asta's first day from 10 March on on which the plan holds jumps that may give way to a trial."""
    return min(
        p.day for p in placements
        if p.athlete == ASTA and p.day >= WEDNESDAY and p.unit.family in JUMPS and p.unit.id == "short-long-jumps"
    )  # fmt: skip


def tried(placements: list[Placement]) -> list[Placement]:
    return [p for p in placements if p.unit.id == "trial-long-jumps"]


def test_a_trial_takes_the_place_of_the_days_jumps(happens: Happens) -> None:
    """Novice amounts whatever the level: the novices' lighter amount (common practice, no source)."""
    on = day_with_jumps(happens.before)
    happens.log("2027-03-09 08:00", *trial(day=str(on)))
    made = happens.replan("2027-03-09 08:05", alone=ALONE)
    (jumps,) = tried(made.own(ASTA))
    assert (jumps.day, jumps.dose.amount, jumps.dose.take_offs) == (on, 5, {"right": 5, "left": 0})
    knee = {side: jumps.dose.loads["knee", side] for side in ("left", "right")}
    assert knee["right"] > knee["left"], "the leg that jumps carries it"
    day = made.own(ASTA, on)
    assert [p.unit.id for p in day if p.unit.family in JUMPS] == ["trial-long-jumps"]
    others = {p.key for p in made.had(ASTA) if p.unit.id != "short-long-jumps" or p.day != on}
    assert others == {p.key for p in made.own(ASTA)} - {jumps.key}, "nothing else changes"
    assert made.problem.block.athlete(ASTA).take_off_leg == "left"
    assert made.problem.block.athlete(ASTA).level_for("full-jumps") == "advanced"
    happens.stable("2027-03-09 08:30")


def test_the_hurt_sides_limit_still_holds(happens: Happens) -> None:
    """The jumps are gone from the plan by then; the trial is asked for by name, within what is allowed."""
    happens.log("2027-03-02 08:00", "hurt", *KNEE, "day=2027-03-02", "side=left", "stage=2")
    happens.replan("2027-03-02 08:05", alone=ALONE)
    happens.log("2027-03-08 08:00", "stage-changed", *KNEE, "day=2027-03-08", "side=left", "stage=3")
    happens.log("2027-03-08 08:01", *trial())
    made = happens.replan("2027-03-08 08:05", alone=ALONE, anew=True)
    (jumps,) = tried(made.own(ASTA))
    assert 1 <= jumps.dose.amount < 5, "stage 3 leaves half of an amount"
    assert jumps.dose.loads["knee", "left"] <= 1
    later = [p for p in made.own(ASTA) if p.day >= date(2027, 3, 8)]
    assert all(p.dose.loads["knee", "left"] <= 1 for p in later)
    assert {(x.side, x.stage) for x in made.problem.limits_on(ASTA, WEDNESDAY)} == {("left", 3)}
    (comes_in,) = {c["now"] for c in made.changes}
    assert comes_in.startswith("trial jumps from 4 steps, 2 jumps"), "and nothing else comes in"


def test_a_hurt_leg_is_not_tried(happens: Happens) -> None:
    """The plan is made all the same, and the coach is told why."""
    happens.log("2027-03-08 08:00", "hurt", *KNEE, "day=2027-03-08", "side=right", "stage=3")
    happens.log("2027-03-08 08:01", *trial())
    said = command("replan", str(happens.file), "--json", "--now", "2027-03-08 08:05")
    assert said.code == 0, said.text
    (why,) = [x for x in json.loads(said.out)["not_ready"] if "trial" in x]
    assert why.startswith(f"{ASTA}: the trial of the other leg on Wed 10 Mar is not planned: ") and "Maybe" in why
    assert not tried(list(known.planned(happens.file)[1].placements))


def test_what_cannot_be_a_trial_is_refused(happens: Happens) -> None:
    own = happens.refused("2027-03-09 08:00", *trial("left"))
    assert "leg: found left" in own and "not the take-off leg" in own
    soon = happens.refused("2027-03-09 08:00", *trial(), "changed=yes", "entered_by=clinician")
    assert "a day up to today" in soon, "a change is recorded on its day; a trial may lie ahead"


def test_a_later_command_changes_the_leg_and_what_was_tried_is_no_mark(happens: Happens) -> None:
    """Jumps of a trial are kept with their leg and become no mark; the change holds from its own day on."""
    on = day_with_jumps(happens.before)
    after = on + timedelta(days=1)
    happens.log("2027-03-09 08:00", *trial(day=str(on)))
    happens.replan("2027-03-09 08:05", alone=ALONE)
    happens.log(
        f"{on} 22:00", "result", f"athlete={ASTA}", f"day={on}", "event=long jump",
        "steps=4", "leg=right", "attempts=3.90 m +0.2 gap=20; not-measured; 4.05 m 0 gap=11",
    )  # fmt: skip
    happens.log(
        f"{after} 08:00", "other-leg", f"athlete={ASTA}", f"day={after}", "leg=right", "changed=yes",
        "entered_by=clinician",
    )  # fmt: skip
    made = happens.replan(f"{after} 08:05", alone=ALONE)
    assert made.problem.block.athlete(ASTA).take_off_leg == "right"
    assert not [m for m in made.problem.block.marks if m.athlete == ASTA]
    assert {(r.start_mark, r.leg) for r in made.problem.block.run_ups if r.athlete == ASTA} == {(3320, "left")}
    assert tried(made.own(ASTA)) == tried(made.had(ASTA)), "what was tried stands as it was done"


def test_trial_and_old_card_on_paper(squad: Path, tmp_path: Path) -> None:
    """The page and the measuring sheet name leg and first estimate; the old card stays beside the new one."""
    shutil.copytree(squad, tmp_path / "own")
    file = tmp_path / "own" / "block.yaml"
    assert command("log", str(file), *trial(), "--now", "2027-03-09 08:00").code == 0
    said = command("replan", str(file), "--sheets", str(tmp_path / "out"), "--now", "2027-03-09 08:05")
    assert said.code == 0, said.text
    page = _text(tmp_path / "out" / "athlete-asta-brunnvik-A4.html")
    assert "from 4 steps, right leg" in page and "a trial, counted on the right leg" in page
    start = re.search(r"try the start mark at about (\d\.\d\d) m, right foot in front", page)
    assert start is not None and "no best asked for" in page
    card = _text(tmp_path / "out" / "run-up-asta-brunnvik-A4.html")
    old, new = card.split("right leg takes off, the other leg")
    assert "Long jump, 18 steps" in old and "33.20" in old and "left leg takes off" in old
    assert "First estimate, not measured" in new and start[1] in new and "33.20" not in new
    sheets = (tmp_path / "out").glob("measuring-2027-03-10-*-pit-A4.html")  # one of the two sessions of that day
    (measured,) = [text for text in map(_text, sheets) if "Asta" in text]
    assert measured.count("4 steps, right leg") == 6, "five attempts and the summary"
    board = _text(tmp_path / "out" / "squad-board-A4.html")
    assert "trial jumps" in board and "other leg" not in board and "right leg" not in board


def _text(sheet: Path) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", sheet.read_text(encoding="utf-8"))).replace("\xa0", " ")
