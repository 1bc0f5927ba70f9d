"""Country and currency codes against `pycountry`, which carries the ISO lists of Debian."""

from __future__ import annotations

import pycountry

from regkit.read.countries import COUNTRIES
from regkit.read.currencies import CURRENCIES

GIVEN_UP = frozenset({
    "ATS", "BEF", "BGN", "CSK", "CYP", "DDM", "DEM", "EEK", "ESP", "FIM", "FRF", "GRD", "HRK",
    "IEP", "ITL", "LTL", "LUF", "LVL", "MTL", "NLG", "PTE", "SIT", "SKK", "YUM",
})
"""European currencies of list three: historic denominations."""


def test_countries_are_those_of_iso_3166_1() -> None:
    """The officially assigned alpha-2 codes, neither more nor fewer."""
    assert {country.alpha_2 for country in pycountry.countries} == COUNTRIES


def test_currencies_are_codes_of_iso_4217() -> None:
    """Every code is one of the standard, in use (list one) or given up (list three).

    pycountry has only list one; what it lacks must be a currency some European state gave up.
    """
    in_use = {currency.alpha_3 for currency in pycountry.currencies}

    assert in_use | GIVEN_UP >= CURRENCIES
    assert {"EUR", "GBP", "USD", "CHF", "JPY", "XTS"} <= CURRENCIES
