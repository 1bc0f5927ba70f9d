"""The command line: one command a module. Commands use the public face, and show.

To add a command, add a module here that decorates a function with `@main.command()`.

Exit codes: 0 the command did what was asked; 2 something that was given is wrong (a file, a name,
a day), with one sentence for each thing; nothing was half-read. A command that gives 1 a meaning
says so in its help.
"""

from __future__ import annotations

import pkgutil
from importlib import import_module

from regkit.commands.common import main

for _module in sorted(pkgutil.iter_modules(__path__), key=lambda module: module.name):
    import_module(f"{__name__}.{_module.name}")

__all__ = ["main"]
