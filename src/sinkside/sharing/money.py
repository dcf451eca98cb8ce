"""Sums of money in words."""


def money(cents: int, currency: str = "") -> str:
    """So many cents, with the currency if there is one."""
    return f"{cents / 100:.2f} {currency}".rstrip()
