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

# One line of eighty columns each, where the first sentence of a command's own help is longer.
SHORT = {
    "new": "Start a block folder with a commented block file or workbook.",
    "next": "Start the next block's file from what was done.",
    "check": "All mistakes of a file with places and remedies; what is unusual.",
    "hand-out": "Record that athletes were given the plan, print clean sheets.",
    "show": "The plan in the terminal by week, athlete or day; or look back.",
    "review": "Judge the plan, or one you wrote yourself, by the rule book.",
    "print": "Print sheets again: all, or those named.",
    "export": "Give the plan to another program: JSON or CSV.",
    "history": "List the revisions: what, why, when, handed out or not.",
    "day": "Record a day: all as planned, only exceptions are typed.",
    "log": "Record one fact: done, ill, hurt, venue-closed ...",
    "replan": "Change the plan as little as the recorded facts ask for.",
    "restore": "Go back to an earlier revision; nothing is deleted.",
    "rules": "The rule book: what each rule says, its numbers, its source.",
    "units": "The catalogue of units: amounts by level, stop rule, source.",
    "schema": "Print the JSON Schema of the block file for an editor.",
}

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
    app.command(name, short_help=SHORT.get(name))(command)
app.add_typer(numbers.app, short_help="Figures to train by, with formula, source and doubt.")
