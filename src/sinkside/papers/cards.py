"""Cards for whoever uses a device, and for whoever puts it back on its brick, as plain data."""

from collections.abc import Sequence

from sinkside.making.cards import RevertCard, UserCard
from sinkside.papers.issue import Issue, Json

TITLE = "Cards"
_PARTS = (
    ("plug_in", "To plug it in"),
    ("normal", "What is normal"),
    ("blinks", "What may put it out"),
    ("never", "Never"),
    ("trouble", "When something is wrong"),
)


def cards_data(
    users: Sequence[UserCard], reverts: Sequence[RevertCard], issue: Issue
) -> dict[str, Json]:
    """For each device its two cards, side by side."""
    back = {card.device: card for card in reverts}
    return {
        **issue.head(TITLE),
        "cards": [
            {"device": user.device, "code": user.code, "user": _user(user), "back": _back(revert)}
            for user in users
            if (revert := back[user.device])
        ],
    }


def _user(card: UserCard) -> dict[str, Json]:
    parts = ((title, list(getattr(card, name))) for name, title in _PARTS)
    return {
        "title": "User's card",
        "state": "on its own brick" if card.on_brick else "on a shared charger",
        "parts": [{"title": title, "lines": lines} for title, lines in parts if lines],
    }


def _back(card: RevertCard) -> dict[str, Json]:
    facts = (("brick", card.brick), ("polarity", card.polarity), ("kept", card.kept))
    return {
        "title": "Revert card",
        "state": "it is on its brick" if card.on_brick else "back to its own brick",
        "words": card.words,
        "steps": list(card.steps),
        "facts": [{"label": label, "text": text} for label, text in facts if text],
        "irreversible": list(card.irreversible),
    }
