"""`python -m regkit` is the command `regkit`."""

from regkit.command import main

main()
