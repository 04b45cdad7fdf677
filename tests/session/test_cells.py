"""Texts are cut, filled and wrapped by the cells a terminal gives them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from schedules.formatting import clean
from tui.widgets.cells import cut, fit, short, wrap

TEXTS = st.text(max_size=60)


@given(TEXTS, st.integers(1, 40))
def test_a_cut_text_fits(text: str, width: int) -> None:
    assert cell_len(cut(text, width)) <= width


@given(TEXTS, st.integers(1, 40))
def test_a_text_that_fits_is_left_as_it_is(text: str, width: int) -> None:
    if cell_len(clean(text)) <= width:
        assert cut(text, width) == short(text, width) == clean(text)


@given(TEXTS, st.integers(1, 40), st.booleans())
def test_a_filled_text_takes_exactly_its_cells(text: str, width: int, right: bool) -> None:
    assert cell_len(fit(text, width, right=right)) == width


@given(TEXTS, st.integers(1, 40))
def test_a_shortened_name_fits(text: str, width: int) -> None:
    assert cell_len(short(text, width)) <= width


@given(TEXTS, st.integers(2, 40))
def test_wrapped_lines_fit_and_lose_no_letter(text: str, width: int) -> None:
    lines = wrap(text, width)

    assert all(cell_len(line) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == clean(text).replace(" ", "")


@pytest.mark.parametrize("width", range(6, 40))
def test_no_line_ends_between_a_number_and_its_unit(width: int) -> None:
    lines = wrap("0.34 g in 12 mL for 3 tanks at 23.5 °C (180 mg/L)", width)

    assert not [line for line in lines if line[0].isalpha() and line.split()[0] in ("g", "mL", "mg/L)")]
    assert {"0.34 g", "12 mL"} <= {each for line in lines for each in ("0.34 g", "12 mL") if each in line}


def test_a_name_loses_its_brackets_before_its_words() -> None:
    assert short("Shrimplet dust (nettle, yeast)", 15) == "Shrimplet dust"


def test_a_name_loses_whole_words_where_enough_is_left() -> None:
    assert short("Green suspension for the fans", 21) == "Green suspension for…"


def test_wide_characters_count_twice() -> None:
    assert cut("水槽の名前", 6) == "水槽…"
    assert fit("水槽", 6) == "水槽  "
