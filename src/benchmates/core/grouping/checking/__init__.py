"""Checks a finished plan from the outside: people, relations, musts, figures, each worked out a second time.

Nothing here imports the engine (seats, problem, search) or its referee; what both sides share is the plan, the
class list and the wishes. The formulas are read anew from the design, so that a slip on one side shows.
"""

from benchmates.core.grouping.checking.faults import faults_in, people_faults_in
from benchmates.core.grouping.checking.figures import total_faults

__all__ = ["faults_in", "people_faults_in", "total_faults"]
