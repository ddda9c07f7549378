"""Currencies in use and the smallest amounts that are paid in them: ISO 4217, list one of 2026-01-01.

The numbers of decimals are kept here since locale data give others: they leave out the hundredths of the
forint or the rupiah, and the thousandths of the Iraqi dinar, because nobody pays them in coins.
"""

from collections.abc import Mapping
from decimal import Decimal

from proposal.quantities.rounding import step_of

_CODES: Mapping[int, str] = {
    0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF",
    2: """
    AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF
    CHF CNY COP CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD
    HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA
    MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN
    QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP
    TRY TTD TWD TZS UAH USD UYU UZS VED VES WST XCD XCG YER ZAR ZMW ZWG
    """,
    3: "BHD IQD JOD KWD LYD OMR TND",
}
MINOR_UNITS: Mapping[str, int] = {code: places for places, codes in _CODES.items() for code in codes.split()}
"""Decimal places of amounts, by currency. Funds, metals and units of account are left out."""


def is_currency(code: str) -> bool:
    """Say whether a code is that of a currency in use (ISO 4217)."""
    return code in MINOR_UNITS


def minor_units(currency: str) -> int:
    """Return how many decimal places amounts in a currency have: 0, 2 or 3.

    currency: code of ISO 4217; of one that is in use no more, which an old record may name, two.
    """
    return MINOR_UNITS.get(currency, 2)


def smallest_unit(currency: str) -> Decimal:
    """Return the step of amounts in a currency by its code of ISO 4217: 1, 0.01 or 0.001."""
    return step_of(minor_units(currency))


def piece_unit(currency: str) -> Decimal:
    """Return the step of prices of pieces and metres: a hundredth of that of amounts.

    currency: code of ISO 4217.
    """
    return step_of(minor_units(currency) + 2)
