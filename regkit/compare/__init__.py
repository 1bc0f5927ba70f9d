"""Comparing: one case across days, several cases, several versions of a ruleset."""
