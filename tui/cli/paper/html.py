"""HTML from a template: every value is escaped, and characters that steer a text are shown by their code."""

from __future__ import annotations

from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined

from tui.cli.out import visible


def rendered(template: str, **values: Any) -> bytes:
    """A template of this folder filled in, as a page in UTF-8."""
    environment = Environment(
        loader=PackageLoader("tui.cli.paper", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=lambda value: visible(value) if type(value) is str else value,
    )
    return environment.get_template(template).render(**values).encode("utf-8", errors="xmlcharrefreplace")
