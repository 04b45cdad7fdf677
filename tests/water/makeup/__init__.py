"""Tests of make-up water: balances, splits, salts, changes, what builds up, lists for a rack."""
