"""`python -m regkit` is the command `regkit`."""

from regkit.commands import main

main()
