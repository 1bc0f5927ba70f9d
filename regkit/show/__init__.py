"""Showing: one output a module. Nothing here judges; it only puts an assessment into a form."""
