"""All commands, each with help and an example."""

from __future__ import annotations

import typer

from planner.cli import book, day, looking, making, numbers, telling

app = typer.Typer(
    name="planner",
    help=(
        "Plans training blocks and camps for a small mixed squad, says why, and prints the plan.\n\n"
        "Start with 'planner demo', then 'planner new my-block'."
    ),
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)

for name, command in (
    ("demo", making.demo),
    ("new", making.new),
    ("next", making.next_block),
    ("check", making.check),
    ("build", making.build),
    ("hand-out", making.hand_out),
    ("show", looking.show),
    ("review", looking.review),
    ("print", making.print_sheets),
    ("export", looking.export),
    ("history", looking.history),
    ("day", day.day),
    ("log", telling.log),
    ("replan", telling.replan),
    ("restore", telling.restore),
    ("backup", telling.backup),
    ("forget", telling.forget),
    ("rules", book.rules),
    ("units", book.units),
    ("schema", book.schema),
):
    app.command(name)(command)
app.add_typer(numbers.app)
