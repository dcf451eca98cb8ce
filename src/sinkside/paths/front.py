"""The front of a path: everything from a charger's port to the plug, without the device."""

from dataclasses import dataclass, replace

from sinkside.frozen import hash_once, once
from sinkside.parts.charger import Charger, Occupied
from sinkside.parts.elements import Converter
from sinkside.parts.part import End, Part, TriggerTraits


@hash_once
@dataclass(frozen=True, kw_only=True)
class Front:
    """A port and the parts behind it, in order.

    Parameters
    ----------
    parts
        From the cable to the plug.
    company
        The ports that may be in use at the same time, this one included.
    """

    charger: Charger
    port: str
    parts: tuple[Part, ...]
    company: Occupied

    @once
    def trigger(self) -> TriggerTraits:
        """What asks for the contract."""
        found = self.head_parts[-1].trigger
        if found is None:
            raise ValueError("a front without a trigger")
        return found

    @property
    def trigger_id(self) -> str:
        """The part that asks for the contract."""
        return self.head_parts[-1].id

    @once
    def split(self) -> int:
        """How many parts stand before the converter; all of them where there is none."""
        for i, part in enumerate(self.parts):
            if part.converter is not None:
                return i
        return len(self.parts)

    @once
    def head(self) -> "Front":
        """The front as far as its trigger: all that the states of its supply hang on."""
        parts = self.head_parts
        return self if len(parts) == len(self.parts) else replace(self, parts=parts)

    @once
    def head_parts(self) -> tuple[Part, ...]:
        """The parts as far as the trigger."""
        for i, part in enumerate(self.parts):
            if part.trigger is not None:
                return self.parts[: i + 1]
        raise ValueError("a front without a trigger")

    @once
    def converter(self) -> Converter | None:
        """The converter, if there is one."""
        return self.parts[self.split].converter if self.split < len(self.parts) else None

    @once
    def rails(self) -> Part | None:
        """The converter with several outputs that it ends in, if it does."""
        return self.parts[-1] if self.parts[-1].rails_converter is not None else None

    @once
    def negotiates(self) -> bool:
        """Whether its cable lets port and trigger talk; one from A to C does not."""
        return all(part.takes.kind != "usb-a" for part in self.parts)

    @once
    def marked_epr(self) -> bool:
        """Whether its cable lets the port go above 20 V; a cable that is fixed to a part does."""
        return all(part.epr for part in self.parts if part.kind == "cable")

    @property
    def end(self) -> End:
        """What the front ends in."""
        return self.parts[-1].gives

    @property
    def isolated(self) -> bool:
        """Whether its output is cut off from the charger's negative."""
        return self.converter is not None and self.converter.direction == "isolated"

    @property
    def occupancies(self) -> tuple[Occupied, ...]:
        """The sets of ports in use that can come about."""
        return tuple(o for o in self.charger.occupancies(self.port) if o <= self.company)

    @property
    def joints(self) -> int:
        """Joints to be made."""
        return sum(part.joints for part in self.parts)

    @once
    def id(self) -> str:
        """Charger, port and parts in one line: the same chain has the same."""
        parts = ", ".join(map(step, self.parts))
        return f"{self.charger.id}:{self.port} > {parts}"

    def sentence(self) -> str:
        """The chain for people, in one line."""
        steps = [p.words or p.id for p in self.parts]
        settings = [f" ({p.setting})" if p.setting else "" for p in self.parts]
        return " → ".join(
            [
                f"{self.charger.id} {self.port}",
                *(a + b for a, b in zip(steps, settings, strict=True)),
            ]
        )


def step(part: Part) -> str:
    """A part as it stands in the `id` of a front."""
    return f"{part.id}({part.setting})" if part.setting else part.id
