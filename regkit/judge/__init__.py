"""Judging: pure functions of a ruleset, a case and a day. Standard library only."""
