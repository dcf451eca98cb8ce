"""Bit fields of USB Power Delivery words, packed and unpacked without ever masking a value away.

A layout lists the fields of a word by revision. What no field covers is reserved; bits found
set there are kept in `reserved`, in their places, so that unpacking and packing give the same
word again. A value that does not fit its field, or lies off its grid, is refused: a packer
that masks turns 60 000 mV into 8 800 mV without a word.

Values are whole numbers of mV, mA and mW, not SI floats: the fields hold nothing else, and
whether a value lies on a grid of 50 mV can only be asked exactly of whole numbers.
"""

from dataclasses import dataclass, fields
from enum import IntEnum
from typing import ClassVar, Self

from sinkside.faults import NotUnderstood


class Revision(IntEnum):
    """A revision of USB Power Delivery; later ones compare greater.

    A message header tells 2.0 from 3.x only.
    """

    R2_0 = 20
    R3_0 = 30
    R3_1 = 31
    R3_2 = 32

    def __str__(self) -> str:
        return f"R{self // 10}.{self % 10}"


@dataclass(frozen=True, kw_only=True)
class Field:
    """One field of a word.

    Parameters
    ----------
    name
        Of the attribute that holds the value.
    low, high
        Its lowest and highest bit.
    step
        What one count stands for; 0 for a flag.
    unit
        Of the value: mV, mA, mW, W or empty.
    since, until
        First and last revision that have the field.
    """

    name: str
    low: int
    high: int
    step: int = 1
    unit: str = ""
    since: Revision = Revision.R2_0
    until: Revision = Revision.R3_2

    @property
    def most(self) -> int:
        """The greatest count that the field holds."""
        return int(2 ** (self.high - self.low + 1)) - 1

    @property
    def mask(self) -> int:
        """The bits of the field, in their places."""
        return self.most << self.low


def flag(
    name: str, bit: int, *, since: Revision = Revision.R2_0, until: Revision = Revision.R3_2
) -> Field:
    """A field of one bit that is true or false."""
    return Field(name=name, low=bit, high=bit, step=0, since=since, until=until)


@dataclass(frozen=True, kw_only=True)
class Layout:
    """The fields of one kind of word.

    Parameters
    ----------
    name
        What the word is, for people.
    entries
        Its fields, of all revisions.
    tag, tag_mask
        Bits that tell the kind, and which bits those are.
    width
        Of the word, in bits.
    since
        First revision that has the kind.
    """

    name: str
    entries: tuple[Field, ...]
    tag: int = 0
    tag_mask: int = 0
    width: int = 32
    since: Revision = Revision.R2_0

    def at(self, revision: Revision) -> tuple[Field, ...]:
        """The fields of a revision."""
        return tuple(f for f in self.entries if f.since <= revision <= f.until)

    def reserved_mask(self, revision: Revision) -> int:
        """The bits that no field of a revision covers."""
        covered = self.tag_mask
        for entry in self.at(revision):
            covered |= entry.mask
        return ((1 << self.width) - 1) & ~covered


@dataclass(frozen=True, kw_only=True)
class Word:
    """A word of the protocol, taken apart.

    Parameters
    ----------
    reserved
        Reserved bits that were found set, in their places; 0 if the sender kept to the rules.
    """

    LAYOUT: ClassVar[Layout]

    reserved: int = 0

    @classmethod
    def unpack(cls, word: int, revision: Revision) -> Self:
        """Take a word of this kind apart.

        Raises
        ------
        NotUnderstood
            The word is too wide, or is of another kind.
        """
        layout = cls.LAYOUT
        check_word(word, layout.width)
        if word & layout.tag_mask != layout.tag:
            raise NotUnderstood(f"{word:#010x} is not a {layout.name}", code="pd-kind")
        values = {f.name: _value(f, word) for f in layout.at(revision)}
        return cls(**values, reserved=word & layout.reserved_mask(revision))

    def pack(self, revision: Revision) -> int:
        """Put the word together.

        Raises
        ------
        NotUnderstood
            A value is off its grid or outside its field, or the revision has no such field.
        """
        layout = self.LAYOUT
        entries = {f.name: f for f in layout.at(revision)}
        word = layout.tag
        for attribute in fields(self):
            value = getattr(self, attribute.name)
            if attribute.name == "reserved":
                word |= _checked_reserved(layout, revision, value)
            elif attribute.name in entries:
                entry = entries[attribute.name]
                word |= _count(layout, entry, value) << entry.low
            elif value != attribute.default:
                raise NotUnderstood(
                    f"{layout.name}: {attribute.name} is {value!r}",
                    f"{revision} has no such field",
                    code="pd-field",
                )
        return word


def check_word(word: int, width: int = 32) -> None:
    """Refuse what is not a word of `width` bits."""
    if isinstance(word, bool) or not isinstance(word, int) or not 0 <= word < 1 << width:
        raise NotUnderstood(
            f"{word!r} is not a word of {width} bits", f"0 to {(1 << width) - 1:#x}", code="pd-word"
        )


def bits_set(word: int) -> tuple[int, ...]:
    """The numbers of the bits that are set, highest first."""
    return tuple(bit for bit in reversed(range(word.bit_length())) if word >> bit & 1)


def _value(entry: Field, word: int) -> int | bool:
    count = (word & entry.mask) >> entry.low
    return bool(count) if entry.step == 0 else count * entry.step


def _count(layout: Layout, entry: Field, value: object) -> int:
    if entry.step == 0:
        if not isinstance(value, bool):
            raise NotUnderstood(
                f"{layout.name}: {entry.name} is {value!r}", "True or False", code="pd-field"
            )
        return int(value)
    highest = entry.most * entry.step
    if isinstance(value, int) and not isinstance(value, bool):
        count, rest = divmod(value, entry.step)
        if not rest and 0 <= count <= entry.most:
            return count
    unit = f" {entry.unit}" if entry.unit else ""
    raise NotUnderstood(
        f"{layout.name}: {entry.name} is {value!r}",
        f"0 to {highest}{unit} in steps of {entry.step}{unit}",
        code="pd-field",
    )


def _checked_reserved(layout: Layout, revision: Revision, reserved: int) -> int:
    stray = reserved & ~layout.reserved_mask(revision)
    if stray:
        raise NotUnderstood(
            f"{layout.name}: reserved is {reserved:#x}",
            f"in {revision} only {layout.reserved_mask(revision):#x} is reserved",
            code="pd-field",
        )
    return reserved
