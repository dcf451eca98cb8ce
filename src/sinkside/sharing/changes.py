"""Changes that a person can make to a sharing: one for each term that is in anyone's hand."""

from dataclasses import dataclass, replace

from sinkside.sharing.money import money
from sinkside.sharing.question import Question
from sinkside.sharing.terms import Term, What, without


@dataclass(frozen=True, kw_only=True, order=True)
class Change:
    """One change.

    Parameters
    ----------
    what, names
        Of the term that it eases, see `Term`.
    cents
        What it costs by itself, beside what is then bought for the chains; None if the price
        is not known.
    """

    what: What
    names: tuple[str, ...]
    cents: int | None

    @property
    def leaves(self) -> tuple[str, ...]:
        """Who is left on its brick by it."""
        return self.names if self.what == "stays" else ()

    def told(self, bought_cents: int, currency: str) -> str:
        """The change in words.

        Parameters
        ----------
        bought_cents
            What is bought in all once it is made.
        """
        match self.what:
            case "stays":
                return f"leave {self.names[0]} on its brick instead"
            case "chargers":
                return f"one more {self.names[0]} (its price is not known)"
            case "budget":
                return f"a budget of {money(bought_cents, currency)}"
            case "stock":
                return f"one more {self.names[0]} on the shelf ({money(self.cents or 0, currency)})"
            case "grounds":
                return "keep the grounds of {} and {} apart in the lead between them".format(
                    *self.names
                )
            case "earth":
                return "chargers with floating outputs"
            case "blink":
                return f"let {self.names[0]} be put out for a moment"
            case _:
                return "block the spare ports"


def changes_of(term: Term, question: Question) -> tuple[Change, ...]:
    """The changes that ease a term; none for what a charger's table says."""
    prices: dict[What, int | None] = {
        "stays": 0,
        "chargers": None,
        "budget": 0,
        "grounds": None,
        "earth": None,
        "blink": 0,
        "spare ports": 0,
    }
    if term.what == "stock":
        cents = question.prices.get(term.names[0], 0)
        return (Change(what="stock", names=term.names, cents=cents),)
    if term.what not in prices:
        return ()
    return (Change(what=term.what, names=term.names, cents=prices[term.what]),)


def changed(question: Question, change: Change) -> Question:
    """The question once a change is made: one more of what is counted, the rest let go."""
    match change.what:
        case "stays":
            return question
        case "chargers":
            kinds = tuple(
                replace(k, count=k.count + 1) if (k.id,) == change.names else k
                for k in question.kinds
            )
            return replace(question, kinds=kinds)
        case "stock":
            part = change.names[0]
            return replace(
                question, stock={**question.stock, part: question.stock.get(part, 0) + 1}
            )
        case _:
            return without(question, {Term(what=change.what, names=change.names)})
