"""The rule book as a page to read: generated from the rule files, kept current by a test."""

from __future__ import annotations

from collections.abc import Iterable

from planner.domain.finding import TIERS, Tier
from planner.rules import BookRule, book

TIER_SAYS: dict[Tier, str] = {
    "must": "hold always; a plan that breaks one is not printed",
    "should": "give way only to one another, by points (amount x weight)",
    "prefer": "count when the shoulds are as good as they get",
}


def page() -> str:
    """The whole page as Markdown."""
    lines = [
        "<!-- generated from the files of this folder by planner/rules/_page.py; do not edit -->",
        "# The rule book",
        "",
        "One file a rule; every number below is a default that a block file may change (table `rules`), and a",
        "rule may be switched off or changed for an athlete and dates with a reason (table `exceptions`).",
    ]
    for tier in TIERS:
        rules = [r for r in book().values() if r.rule.tier == tier]
        if rules:
            lines += ["", f"## {tier.capitalize()}: {TIER_SAYS.get(tier, '')}"]
            for rule in rules:
                lines += ["", *_rule_lines(rule)]
    return "\n".join(lines) + "\n"


def _rule_lines(rule: BookRule) -> Iterable[str]:
    facts = rule.rule
    yield f"### {rule.id.replace('_', ' ')}"
    yield ""
    yield rule.sentence
    yield ""
    weight = "" if facts.tier == "must" else f", {facts.weight} points a step"
    raised = ", a must for some athletes" if facts.tier_for is not None else ""
    yield f"- `{rule.id}`, by {facts.scope}{weight}{raised}"
    for name, p in facts.parameters.items():
        text = f" ({p.text})" if p.text else ""
        yield f"- `{name}`: {p.default} {p.unit}{text}; from {p.low} to {p.high}"
    if facts.stricter:
        yield f"- stricter when planning: {facts.stricter}"
    yield f"- source ({facts.source.sure}): {facts.source.text}"
    yield ""
    yield "```text"
    for example in facts.examples:
        verdict = f"{example.findings} too much" if example.findings else "kept"
        for line in example.text.strip().splitlines():
            yield line.strip()
        tier = f", a {example.tier}" if example.tier else ""
        yield f"    {verdict}{tier}: {example.why}"
    yield "```"


if __name__ == "__main__":
    print(page(), end="")
