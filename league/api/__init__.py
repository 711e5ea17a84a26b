"""The shared half of the API: problems by RFC 9457, strict bodies and their fields, paging, strict filters.

Knows no subject: rooms build on it, never the other way.
"""

from __future__ import annotations

from league.api.bodies import JSONBody, StrictSerializer
from league.api.fields import Day, Moment, RowId, Submission, Text, Whole, YesNo
from league.api.lists import Pages, StrictFilterBackend
from league.api.problems import PROBLEM, Problem, flatten, no_such_address, problem

__all__ = [
    "PROBLEM",
    "Day",
    "JSONBody",
    "Moment",
    "Pages",
    "Problem",
    "RowId",
    "StrictFilterBackend",
    "StrictSerializer",
    "Submission",
    "Text",
    "Whole",
    "YesNo",
    "flatten",
    "no_such_address",
    "problem",
]
