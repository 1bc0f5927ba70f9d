"""Numbers that carry a check of their own, held against published examples.

A doubt is a caution: no number, however odd, is ever refused.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from regkit.judge.identifiers import check_digit, frame_number_doubt, vat_number_doubt
from regkit.model.values import MISSING, Value
from regkit.read.edtf import read_date
from tests.quillby import assessed, say

# Each is a number its source prints with the check digit it works out.
PUBLISHED = {
    "49 CFR 565.15(c), table of a sample calculation: sum 411, remainder 4": "1G4AH59H45G118341",
    "NHTSA, Outline for New Manufacturer Information: sum 314, remainder 6": "1J9RP1A36A1644345",
    "49 CFR 565.15(c): every weight times 1 is 89, remainder 1": "11111111111111111",
}
MODERN = read_date("1990")
LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ0123456789"


def doubt(number: str, built: Value = MODERN) -> str:
    says = frame_number_doubt(number, built)
    return "" if says is None else say(says)


@pytest.mark.parametrize("number", PUBLISHED.values(), ids=PUBLISHED.keys())
def test_published_examples_have_the_check_digit_worked_out_for_them(number: str) -> None:
    assert check_digit(number) == number[8]
    assert doubt(number) == ""


def test_a_remainder_of_ten_is_written_x() -> None:
    """49 CFR 565.15(c)(4): the tenth remainder is the letter X."""
    assert check_digit("1FACP45E?LF192944".replace("?", "0")) == "X"


@given(st.sampled_from(list(PUBLISHED.values())), st.integers(0, 16), st.sampled_from(LETTERS))
def test_one_wrong_figure_is_found_unless_it_counts_the_same(
    number: str, place: int, letter: str
) -> None:
    """A check modulo 11 finds every single wrong character whose value differs (ISO 7064 theory).

    Letters share the values 1 to 9, so swapping an A for a 1 is not found; nor is the ninth place
    counted in the sum, where any other character is simply wrong.
    """
    changed = number[:place] + letter + number[place + 1:]
    value = dict(zip("ABCDEFGHJKLMNPRSTUVWXYZ",
                     (1, 2, 3, 4, 5, 6, 7, 8, 1, 2, 3, 4, 5, 7, 9, 2, 3, 4, 5, 6, 7, 8, 9),
                     strict=True)) | {str(d): d for d in range(10)}
    same = letter == number[place] if place == 8 else value[letter] == value[number[place]]

    assert (check_digit(changed) == changed[8]) == same


@pytest.mark.parametrize(("number", "says"), [
    ("1G4AH59H55G118341", "the check digit of a vehicle made for North America"),
    ("1G4AH59H45G1I8341", "'1G4AH59H45G1I8341' holds I, which a 17-character number never has"),
    ("1G4AH59H45G11834", "has 16 characters"),
])
def test_a_doubtful_number_of_a_modern_vehicle_is_a_caution(number: str, says: str) -> None:
    assert says in doubt(number)


def test_the_ninth_place_is_the_makers_own_outside_north_america() -> None:
    """ISO 3779 asks for no check digit; a number beginning with W (Germany) may have any."""
    assert doubt("WBA" + "A" * 5 + "Z" + "1" * 8) == ""


@given(st.text(min_size=1, max_size=40))
def test_a_frame_number_from_before_1981_is_free_form(number: str) -> None:
    """However it looks, nothing is said against it."""
    assert frame_number_doubt(number, read_date("../1980")) is None


@given(st.text(min_size=1, max_size=40), st.sampled_from([MISSING, MODERN, read_date("1980/1982")]))
def test_no_number_is_ever_an_error(number: str, built: Value) -> None:
    frame_number_doubt(number, built)


def test_a_short_number_of_unknown_age_is_not_doubted() -> None:
    assert doubt("S25 10482", MISSING) == ""


# Numbers that python-stdnum's own documentation gives as valid.
@pytest.mark.parametrize(("number", "country"), [
    ("DE136,695 976", "QB"), ("GB 980 7806 84", "QB"), ("980 7806 84", "GB"),
    ("FR 40 303 265 045", "QB"), ("ATU13585627", "QB"), ("IE 6433435F", "QB"),
    ("CHE-107.787.577 IVA", "QB"), ("NO 995 525 828 MVA", "QB"), ("EL 094259216", "QB"),
])
def test_valid_vat_numbers_are_not_doubted(number: str, country: str) -> None:
    pytest.importorskip("stdnum")

    assert vat_number_doubt(number, country) is None


def test_an_invalid_vat_number_is_a_caution_that_says_why() -> None:
    pytest.importorskip("stdnum")
    found = vat_number_doubt("DE136695978", "QB")

    assert found is not None
    assert say(found).startswith("the VAT number 'DE136695978' does not pass the check of DE:")


def test_a_country_without_a_known_check_is_not_doubted() -> None:
    pytest.importorskip("stdnum")

    assert vat_number_doubt("12345", "QB") is None


def test_without_the_library_it_says_that_nothing_was_checked(
    monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(__import__("sys").modules, "stdnum.exceptions", None)
    found = vat_number_doubt("DE136695976", "QB")

    assert found is not None
    assert "pip install python-stdnum" in say(found)


def test_doubts_of_a_case_name_each_number_once_whoever_tells_it() -> None:
    """The same wrong number on two papers is one doubt; the case is assessed all the same."""
    shown = {"vehicle.frame_number": "1G4AH59H55G118341"}
    found = assessed({"vehicle.built": "1985", **shown},
                     [{"evidence": "old-document", "shows": shown},
                      {"evidence": "dating-letter",
                       "shows": {"vehicle.frame_number": "1G4AH59H5-5G118341"}}])

    assert len(found.paper_trouble.doubts) == 1
    assert found.verdicts["register-it"].value == "required"
