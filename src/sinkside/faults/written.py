"""Models of what a person writes, and how a broken one is told: every fault, at its place.

A `Written` model says which keys a mapping may hold and how each value is read. `read`
checks marked data against it and turns whatever is wrong into faults.
"""

from collections.abc import Mapping
from functools import cache
from typing import Annotated, Any, Self, TypeVar

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    GetJsonSchemaHandler,
    ModelWrapValidatorHandler,
    ValidationError,
    model_validator,
)
from pydantic_core import CoreSchema, InitErrorDetails, PydanticCustomError

from sinkside.faults.fault import Fault, Faulty, NotUnderstood
from sinkside.faults.marked_yaml import Marked, Path
from sinkside.faults.nearest import nearest

# Under which an entry is told its own name; no person can write it.
ID = "\0id"


def _alias(field: str) -> str:
    """The key of a field that names none itself."""
    return ID if field == "id" else field


class Written(BaseModel):
    """A mapping in a file: its keys are fixed, and an unknown one is told with the nearest."""

    model_config = ConfigDict(
        extra="ignore", frozen=True, arbitrary_types_allowed=True, alias_generator=_alias
    )

    @classmethod
    def __get_pydantic_json_schema__(
        cls, core: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """For editors: no unknown keys; the name of an entry is the key before it."""
        schema = handler.resolve_ref_schema(handler(core))
        schema.get("properties", {}).pop(ID, None)
        if ID in schema.get("required", []):
            schema["required"] = [key for key in schema["required"] if key != ID]
        schema["additionalProperties"] = False
        return schema

    @model_validator(mode="wrap")
    @classmethod
    def _no_unknown_keys(cls, data: Any, handler: ModelWrapValidatorHandler[Self]) -> Self:
        allowed = keys(cls)
        if not isinstance(data, dict) or data.keys() <= allowed.keys():
            return handler(data)
        known = [key for key in allowed if key != ID]
        errors = [_stranger(key, known) for key in data if key not in allowed]
        try:
            handler(data)
        except ValidationError as error:
            errors += [_again(line) for line in error.errors(include_url=False)]
        raise ValidationError.from_exception_data(cls.__name__, errors)


@cache
def keys(model: type[Written]) -> dict[str, None]:
    """The keys that a mapping may hold, in the order of the fields; `ID` among them."""
    return dict.fromkeys(field.alias or name for name, field in model.model_fields.items())


def _stranger(key: str, known: list[str]) -> InitErrorDetails:
    context = {"key": key, "right": nearest(key, known)}
    kind = PydanticCustomError("unknown_key", "{key}", context)
    return InitErrorDetails(type=kind, loc=(key,), input=key)


def _again(line: Any) -> InitErrorDetails:
    """An error of the inner run, to be raised once more beside the unknown keys."""
    context = {"kind": line["type"], "message": line["msg"]} | dict(line.get("ctx", {}))
    kind = PydanticCustomError("again", "{message}", context)
    return InitErrorDetails(type=kind, loc=line["loc"], input=line["input"])


def _entries(value: Any) -> Any:
    """A mapping of named entries as a list, each entry with its name as `id`."""
    if value is None:
        return []
    if not isinstance(value, dict):
        raise NotUnderstood("a mapping of names is wanted here", "write name: {key: value, …}")
    return [
        {**(entry or {}), ID: name} if entry is None or isinstance(entry, dict) else entry
        for name, entry in value.items()
    ]


T = TypeVar("T")
M = TypeVar("M", bound=Written)


class _AsMapping:
    """For editors: the tuple of entries is a mapping in the file."""

    @classmethod
    def __get_pydantic_json_schema__(
        cls, core: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "object", "additionalProperties": handler(core)["items"]}


Named = Annotated[tuple[T, ...], BeforeValidator(_entries), _AsMapping]
"""A mapping of names in the file; a tuple of entries, each knowing its `id`, in the program."""


def read(model: type[M], marked: Marked) -> M:
    """Check marked data against a model.

    Raises
    ------
    Faulty
        With every fault at its place.
    """
    try:
        return model.model_validate(marked.data)
    except ValidationError as error:
        paths = _Paths(marked)
        lines = error.errors(include_url=False)
        raise Faulty(_fault(line, marked, paths.path(line["loc"])) for line in lines) from None


def _fault(line: Any, marked: Marked, path: Path) -> Fault:
    """One line of pydantic's complaint as a fault with its place."""
    context = line.get("ctx") or {}
    error = context.get("error")
    if isinstance(error, NotUnderstood):
        return error.fault.at(marked.place(path))
    name = str(path[-1]) if path else "the file"
    got = f"{str(line['input'])[:60]!r}"
    kind = context.get("kind", line["type"])
    match kind:
        case "unknown_key":
            wrong, right = f"unknown key {context['key']!r}", context["right"]
            path = (*path[:-1], context["key"]) if path[-1:] == (context["key"],) else path
            return Fault(code="unknown-key", wrong=wrong, right=right, place=marked.key_place(path))
        case "missing":
            return _missing(_key(line["loc"][-1]), path, marked)
        case "union_tag_not_found":
            wrong, right = f"'is' is missing{_in(path)}", "add is: lead, say"
            place = marked.entry_place(path)
            return Fault(code="missing-key", wrong=wrong, right=right, place=place)
        case "union_tag_invalid":
            code, wrong = "unknown-word", f"{context['tag']!r} is no kind of part"
            right = nearest(context["tag"], _words(context["expected_tags"]))
        case "literal_error" | "enum":
            code, wrong = "unknown-word", f"{got} is not known for {name!r}"
            right = nearest(str(line["input"]), _words(context.get("expected", "")))
        case "model_type" | "dict_type" | "model_attributes_type":
            code, wrong = "not-a-mapping", f"{name!r} holds {got}"
            right = "a mapping {key: value, …} is wanted here"
        case "list_type" | "tuple_type":
            code, wrong = "not-a-list", f"{name!r} holds {got}"
            right = "a list [a, b, …] is wanted here"
        case "string_type":
            code, wrong, right = "not-text", f"{name!r} holds {got}", "plain text is wanted here"
        case _:
            code, wrong = "not-understood", f"{name!r}: {got} is not understood"
            right = context.get("message", line["msg"])
    return Fault(code=code, wrong=wrong, right=right, place=marked.place(path))


def _missing(key: str, path: Path, marked: Marked) -> Fault:
    """A key that is missing; a section that stands one level too deep is told where it stands."""
    wrong, right, at = f"{key!r} is missing{_in(path)}", "add it", path
    if not path:
        inside = next((p for p in marked.keys if len(p) == 2 and p[-1] == key), None)
        if inside is not None:
            right, at = f"it stands here, inside {inside[0]!r}: set it in less", inside
    return Fault(code="missing-key", wrong=wrong, right=right, place=marked.key_place(at))


def _in(path: Path) -> str:
    return f" in {path[-1]!r}" if path else ""


def _key(name: str | int) -> str:
    """The key as it stands in a file: Python's own words are fields with a trailing dash."""
    return str(name).rstrip("_")


def _words(expected: str) -> list[str]:
    return [w.strip().strip("'") for w in expected.replace(" or ", ", ").split(",") if w.strip()]


class _Paths:
    """Pydantic's locations as paths in the file: named entries are lists to pydantic only."""

    def __init__(self, marked: Marked) -> None:
        self.marked = marked
        self.names: dict[int, list[str]] = {}

    def path(self, location: tuple[str | int, ...]) -> Path:
        """The path of a location, or of the nearest thing around it that the file holds."""
        path: list[str | int] = []
        here: Any = self.marked.data
        tagged = False
        for step in location:
            key = self.name(here, step) if isinstance(here, Mapping) else step
            if isinstance(here, Mapping) and step == here.get("is") and not tagged:
                tagged = True  # a union's tag comes before any key of the entry
                continue
            in_list = isinstance(here, list) and isinstance(key, int) and key < len(here)
            if in_list or (isinstance(here, Mapping) and key in here):
                here, tagged = here[key], False
                path.append(key)
        return tuple(path)

    def name(self, mapping: Mapping[str, Any], step: str | int) -> str | int:
        """The key of a mapping that a step means."""
        if not isinstance(step, int):
            return step
        names = self.names.get(id(mapping))
        if names is None:
            names = self.names[id(mapping)] = list(mapping)
        return names[step]


__all__ = ["Named", "Written", "keys", "nearest", "read"]
