"""Shoes: what is typed, which are one and the same, and which one words mean."""

from __future__ import annotations

import pytest

from planner.domain.shoe import NO_SHOE, Shoe, different, meant_among, shoe_of, worn

SPIKES, FLATS = Shoe("spikes", 262), Shoe("flats", 270)


@pytest.mark.parametrize(
    ("typed", "shoe"),
    [
        ("spikes 26.2 cm", SPIKES),
        ("  spikes,  262 mm ", SPIKES),
        ("spikes (26,2 cm)", SPIKES),
        ("26.2 cm", Shoe("", 262)),
        ("spikes", Shoe("spikes")),
        ("pair 2 27 cm", Shoe("pair 2", 270)),
        ("", NO_SHOE),
    ],
)
def test_a_shoe_is_its_name_its_length_or_both(typed: str, shoe: Shoe) -> None:
    assert shoe_of(typed) == shoe
    assert not shoe.said or shoe_of(str(shoe)) == shoe, "as it is written it is read"


@pytest.mark.parametrize("typed", ["26.2", "EU 40", "size 40", "26.25 cm", "=1+1", "x" * 25, "a;b"])
def test_a_size_a_bare_figure_and_a_formula_are_no_shoe(typed: str) -> None:
    with pytest.raises(ValueError, match=r"such as 'spikes 26\.2 cm'"):
        shoe_of(typed)


def test_shoes_are_told_apart_by_name_and_a_length_belongs_to_its_shoe() -> None:
    said = (Shoe("spikes"), FLATS, Shoe("Spikes", 262), Shoe("", 270), Shoe("", 262))
    assert different(said) == (SPIKES, FLATS), "the length was said later; a length alone means the shoe of it"
    old = Shoe("old spikes", 262)
    assert different((SPIKES, old, Shoe("", 262))) == (SPIKES, old, Shoe("", 262)), "two of one length"
    assert different((Shoe("", 262), Shoe("", 265))) == (Shoe("", 262), Shoe("", 265))


def test_which_shoe_words_mean() -> None:
    own = (SPIKES, FLATS)
    assert meant_among(Shoe("SPIKES"), own) == (SPIKES,) and meant_among(Shoe("", 270), own) == (FLATS,)
    assert meant_among(NO_SHOE, own) == own and meant_among(NO_SHOE, own[:1]) == (SPIKES,)
    assert meant_among(Shoe("boots", 280), own) == ()
    assert worn(NO_SHOE, own) == SPIKES and worn(Shoe("boots", 280), own) == Shoe("boots", 280)
