"""Why something was done or not done, as a code with values: the words for it are chosen where it is shown."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any, Final

Value = str | int | float | bool | None
IDENTIFIER: Final = re.compile(r"[a-z][a-z0-9_]*")
"""What a code and the name of a value look like. The list of codes is open: older programs pass on newer ones."""


@dataclass(frozen=True, slots=True)
class Reason:
    """A code such as "min_gap" with its values, in order; code "other" has the keeper's own words as `text`."""

    code: str
    values: tuple[tuple[str, Value], ...] = ()

    @classmethod
    def of(cls, code: str, /, **values: Value) -> Reason:
        """A reason with named values."""
        return cls(code, tuple(values.items()))

    @classmethod
    def other(cls, text: str) -> Reason:
        """A reason in the keeper's own words."""
        return cls.of("other", text=text)

    def get(self, name: str) -> Value:
        """A value by its name, None where there is none of that name."""
        return dict(self.values).get(name)

    def named(self) -> dict[str, str | int | float]:
        """The values by name, without those that are none."""
        return {name: value for name, value in self.values if value is not None}

    def written(self) -> dict[str, Any]:
        """The reason as JSON values."""
        return {"code": self.code, **dict(self.values)}

    @classmethod
    def read(cls, values: Any) -> Reason:
        """The reason in JSON values; ValueError where there is none."""
        if not isinstance(values, dict) or not isinstance(values.get("code"), str):
            raise ValueError("no code")
        if any(not isinstance(value, str | int | float | bool | None) for value in values.values()):
            raise ValueError("a value of a reason is a text, a number, true, false or null")
        return cls(values["code"], tuple((name, value) for name, value in values.items() if name != "code"))
