"""What the grammar makes of the classified pieces: quantities, labels, ports and signs in a row."""

from dataclasses import dataclass

from sinkside.plates.reading import type_of_centre


@dataclass(frozen=True, kw_only=True, slots=True)
class Item:
    """Anything with a span in the mapped text."""

    start: int
    end: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Mark(Item):
    """A sign or word for the kind of current: `DC`, `AC`, or `BOTH`."""

    says: str
    note: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Amount:
    """One printed figure or range in SI units, and where it starts."""

    low: float
    high: float
    start: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Quantity(Item):
    """Figures with one unit.

    Parameters
    ----------
    unit
        `V`, `A`, `W`, `HZ` or `OTHER`.
    amounts
        Alternatives (`3/6/9 V`), each of them a figure or a range.
    marks
        Of volts, the signs for the kind of current directly behind them.
    notes
        Why a figure can be read in more than one way.
    apparent
        Whether power is printed in VA.
    summed
        Whether the amounts add up (`45W+20W`).
    """

    unit: str
    amounts: tuple[Amount, ...]
    marks: tuple[Mark, ...] = ()
    notes: tuple[str, ...] = ()
    apparent: bool = False
    summed: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Label(Item):
    """`INPUT` or `OUTPUT`, with or without a colon."""

    side: str
    colon: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Ports(Item):
    """Ports by name, joined by `+` (together) or `/` (each), and the power printed for them.

    Parameters
    ----------
    names
        The names, without "USB" and "Type".
    together
        Whether the ports are meant together.
    usb
        Whether one is called a USB port.
    loosely
        Whether a word such as "and" joins them, which may mean either.
    colon
        Whether a colon or an equals sign follows.
    power
        Power printed directly behind.
    """

    names: tuple[str, ...]
    together: bool
    loosely: bool = False
    usb: bool
    colon: bool = False
    power: Quantity | None = None

    @property
    def name(self) -> str:
        """The ports as one name."""
        return ("+" if self.together else "/").join(self.names)


@dataclass(frozen=True, kw_only=True, slots=True)
class Word(Item):
    """A word or sign whose kind says all: separators, roles, profiles, fuses, noise."""

    kind: str
    text: str
    note: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Pole:
    """One element of a run about polarity: a contact, a sign, or what joins them."""

    kind: str
    start: int
    end: int


@dataclass(frozen=True, kw_only=True, slots=True)
class PoleRun(Item):
    """Contacts and signs in a row, in words."""

    poles: tuple[Pole, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Drawn(Item):
    """A polarity drawing: the sign of its centre, or why that cannot be told."""

    centre: type_of_centre
    why: str
