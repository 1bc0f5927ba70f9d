"""Sphinx settings. Warnings are errors in the build that counts."""

import sys
from importlib.metadata import version as installed_version
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

project = "regkit"
author = "the regkit engineers"
copyright = "2026, the regkit engineers"
version = release = installed_version("regkit")

extensions = ["sphinx.ext.autodoc", "rooms"]
autodoc_member_order = "bysource"
autodoc_typehints = "description"
# Names of the standard library in signatures have no page here to point to.
nitpicky = False

exclude_patterns = ["_build"]
html_theme = "alabaster"
html_theme_options = {
    "description": "What it takes to get one old vehicle lawfully onto the register, and why",
    "fixed_sidebar": True,
}
html_show_sourcelink = False
