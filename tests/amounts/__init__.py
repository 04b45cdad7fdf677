"""Checks of rations, amounts, mixing and water."""
