"""What a seat costs at each level, and the parts that all seats together take from the shelf."""

from collections import defaultdict

from sinkside.sharing.in_order import INFINITE, Model
from sinkside.sharing.question import Option, Question


def seat_costs(option: Option, order: int, *, harm: bool, misbehaves: bool) -> dict[str, int]:
    """The cost of one option at each level.

    Parameters
    ----------
    order
        Its place in the order of names, which breaks ties.
    harm, misbehaves
        What the company leaves open, whatever the path.
    """
    return {
        "off": -1,
        "lost": -int(option.brick_lost),
        "harm": option.harm_unproven + int(harm),
        "misbehaves": int(option.misbehaves_unproven or misbehaves),
        "implausible": option.implausible,
        "irreversible": option.irreversible,
        "risks": option.risks,
        "stages": option.stages,
        "decivolts": option.decivolts,
        "milliwatts": option.milliwatts,
        "order": order,
    }


class Stock:
    """The parts on the shelf: what is taken beyond them is bought, within the budget."""

    def __init__(self, question: Question, model: Model) -> None:
        self.question, self.model = question, model
        used = sorted({part for o in question.options for part in o.parts})
        most = len({o.device for o in question.options}) * 4
        self.buy = {
            part: model.column(most, {"cents": question.prices.get(part, 0)}) for part in used
        }
        self.taken: dict[str, dict[int, float]] = defaultdict(dict)

    def takes(self, column: int, option: Option) -> None:
        """A column takes the parts of an option."""
        for part in option.parts:
            self.taken[part][column] = self.taken[part].get(column, 0.0) + 1.0

    def close(self) -> None:
        """Write the rows, once every column has said what it takes."""
        for part, column in self.buy.items():
            entries = self.taken[part] | {column: -1.0}
            self.model.row(-INFINITE, float(self.question.stock.get(part, 0)), entries)
        if self.question.budget is not None:
            prices = {c: float(self.question.prices.get(p, 0)) for p, c in self.buy.items()}
            self.model.row(-INFINITE, float(self.question.budget), prices)
