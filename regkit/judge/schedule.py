"""When things can start and finish: a forward and a backward pass over steps and papers.

The rule is that of the critical path method: a step starts when the last thing it needs is there;
what cannot slip without moving the end is critical. Lengths are counted on the calendar from the
day a step starts, once with the least and once with the most it takes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from regkit.model.calendar import Period
from regkit.model.plan import Days
from regkit.model.window import Duration


@dataclass(frozen=True, slots=True)
class Task:
    """Something that takes time: a step, or a paper to get from outside.

    Attributes:
        needs: the tasks that must be finished first.
        takes: None where nobody says how long; counted as no time, and marked.
        not_before: the earliest day it can start.
    """

    name: str
    needs: tuple[str, ...]
    takes: Duration | None
    not_before: date


@dataclass(frozen=True)
class Schedule:
    """The earliest days of every task that can be finished at all, in an order they can be done.

    Attributes:
        start, finish: by task.
    """

    tasks: Mapping[str, Task]
    start: Mapping[str, Days]
    finish: Mapping[str, Days]

    @property
    def stuck(self) -> tuple[str, ...]:
        """The tasks that can never start, because they wait for each other."""
        return tuple(name for name in self.tasks if name not in self.finish)

    @cached_property
    def end(self) -> date | None:
        """The latest day on which the last task is finished; None if there is none."""
        return max((days.last for days in self.finish.values()), default=None)

    @cached_property
    def spare(self) -> Mapping[str, int]:
        """The days by which each task may slip without moving the end."""
        end = self.end or date.min
        latest = dict.fromkeys(self.finish, end.toordinal())
        for name in reversed(list(self.finish)):
            start = latest[name] - (self.finish[name].last - self.start[name].last).days
            for needed in self.tasks[name].needs:
                latest[needed] = min(latest[needed], start)
        return {name: latest[name] - self.finish[name].last.toordinal() for name in self.finish}

    def path(self) -> tuple[str, ...]:
        """Return the longest chain to the end, first task first."""
        done = [name for name in self.finish if self.finish[name].last == self.end]
        found: list[str] = []
        name = done[-1] if done else None
        while name is not None:
            found.append(name)
            start = self.start[name].last
            name = next((needed for needed in self.tasks[name].needs
                         if self.finish[needed].last == start), None)
        return tuple(reversed(found))


def schedule(tasks: Iterable[Task]) -> Schedule:
    """Return the earliest start and finish of every task."""
    by_name = {task.name: task for task in tasks}
    start: dict[str, Days] = {}
    finish: dict[str, Days] = {}
    waiting = dict(by_name)
    while True:
        able = [task for task in waiting.values() if all(name in finish for name in task.needs)]
        if not able:
            return Schedule(by_name, start, finish)
        for task in able:
            start[task.name] = _start(task, [finish[name] for name in task.needs])
            finish[task.name] = _finish(task, start[task.name])
            del waiting[task.name]


def _start(task: Task, needs: list[Days]) -> Days:
    return Days(
        max([task.not_before, *(days.first for days in needs)]),
        max([task.not_before, *(days.last for days in needs)]),
        any(days.or_later for days in needs),
    )


def _finish(task: Task, start: Days) -> Days:
    if task.takes is None:
        return Days(start.first, start.last, True)
    return Days(_after(task.takes.least, start.first), _after(task.takes.most, start.last),
                start.or_later)


def _after(length: Period, start: date) -> date:
    return length.after(start)
