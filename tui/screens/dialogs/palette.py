"""The framework's command palette, without a fault of its list."""

from __future__ import annotations

from textual.command import CommandList, CommandPalette


class Palette(CommandPalette):
    """Finds an act by its name."""

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Leave out paging through a list that takes no room yet: Textual 8.2 fails there with a KeyError."""
        if action == "command_list" and not self.query_one(CommandList).scrollable_content_region:
            return False
        return super().check_action(action, parameters)
