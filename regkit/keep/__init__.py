"""Keeping: tools for those who maintain rulesets and the rule language."""
