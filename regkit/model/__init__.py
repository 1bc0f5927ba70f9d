"""Frozen values: inexact dates, facts, cases, rulesets and assessments. Standard library only."""
