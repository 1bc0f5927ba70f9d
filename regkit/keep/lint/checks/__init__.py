"""The checks, one in a module of the name of its code."""
