"""Tests of the water: readings and make-up water."""
