"""What cannot be answered: raised as a phrase, answered as a page or as problem details."""

from __future__ import annotations

from collections.abc import Iterable

from regkit.language import Phrase
from regkit.read.problems import Problem


class Refused(Exception):
    """A request that is not answered as asked.

    Attributes:
        status: the status code (RFC 9110).
        says: why, and what would be right.
        errors: everything that is wrong with a case, each with its place.
        after: after how many seconds to try again; 0 where that would not help.
    """

    def __init__(
        self, status: int, says: Phrase, errors: Iterable[Problem] = (), after: int = 0
    ) -> None:
        super().__init__(says.template)
        self.status = status
        self.says = says
        self.errors = tuple(errors)
        self.after = after

    @property
    def headers(self) -> dict[str, str]:
        """The headers that go with it."""
        return {"Retry-After": str(self.after)} if self.after else {}
