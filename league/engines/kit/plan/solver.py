"""HiGHS asked for the least of one aim over a programme, as a linear one or in whole numbers."""

from __future__ import annotations

import os
from dataclasses import dataclass
from functools import cache
from math import ceil, inf
from typing import Final

import highspy
import numpy as np

from .program import NO_LIMIT, Floats, Ints, Program

# An aim has whole values, so a point within less than one of the bound is a best one.
GAP_OF_WHOLE_AIMS: Final = 0.999
ROUNDING: Final = 1e-5


@dataclass(frozen=True, kw_only=True, slots=True)
class Relaxed:
    """The linear solution: a point and the prices of the rows."""

    point: Floats
    prices: Floats


@dataclass(frozen=True, kw_only=True, slots=True)
class Whole:
    """The best point of whole numbers found, if any, and the least whole cost by the solver's word."""

    point: Ints | None
    least: int | None


def solve_relaxed(program: Program, costs: Ints, seconds: float) -> Relaxed | None:
    """None: not solved in time."""
    highs = _highs(program, costs, seconds, whole=False)
    highs.run()
    if highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    solution = highs.getSolution()
    return Relaxed(point=np.asarray(solution.col_value), prices=np.asarray(solution.row_dual))


def solve_whole(program: Program, costs: Ints, seconds: float, *, start: Ints | None, stop_at: int | None) -> Whole:
    """From a point to start with, if any; the search ends early at a cost of `stop_at`, which is known to be the least.

    Where HiGHS improves the start while it simplifies the problem, it ends at once and hands back the start as it was;
    then it is asked again without one.
    """
    highs = _highs(program, costs, seconds, whole=True)
    highs.setOptionValue("mip_rel_gap", 0.0)
    highs.setOptionValue("mip_abs_gap", GAP_OF_WHOLE_AIMS)
    if stop_at is not None:
        highs.setOptionValue("objective_target", stop_at + ROUNDING)
    if start is not None:
        given = highspy.HighsSolution()
        given.col_value = start.astype(np.float64).tolist()
        highs.setSolution(given)
    highs.run()
    info = highs.getInfo()
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    point = np.rint(np.asarray(highs.getSolution().col_value)).astype(np.int64) if found else None
    bound = info.mip_dual_bound
    least = ceil(bound - ROUNDING * max(1.0, abs(bound) / 1000)) if abs(bound) < inf else None
    if start is not None and point is not None and int(costs @ point) > info.objective_function_value + ROUNDING:
        return solve_whole(program, costs, seconds - highs.getRunTime(), start=None, stop_at=stop_at)
    return Whole(point=point, least=least)


def _highs(program: Program, costs: Ints, seconds: float, *, whole: bool) -> highspy.Highs:
    _hear_greeting()
    highs = highspy.Highs()
    highs.setOptionValue("output_flag", False)
    highs.setOptionValue("parallel", "off")  # the same answer on every machine
    highs.setOptionValue("threads", 1)  # as all of ours: the first run decides for the whole process
    highs.setOptionValue("time_limit", max(seconds, 0.0))
    model = highspy.HighsLp()
    columns, rows = len(program.lower), len(program.row_lower)
    model.num_col_, model.num_row_ = columns, rows
    model.col_cost_ = costs.astype(np.float64)
    model.col_lower_ = np.asarray(program.lower, dtype=np.float64)
    model.col_upper_ = np.asarray(program.upper, dtype=np.float64)
    model.row_lower_ = _open(program.row_lower)
    model.row_upper_ = _open(program.row_upper)
    matrix = model.a_matrix_
    matrix.format_ = highspy.MatrixFormat.kRowwise
    matrix.num_col_, matrix.num_row_ = columns, rows
    # Rows were added one after the other, so the entries lie row by row.
    matrix.start_ = np.concatenate([[0], np.cumsum(np.bincount(program.at_row, minlength=rows))]).astype(np.int32)
    matrix.index_ = np.asarray(program.at_column, dtype=np.int32)
    matrix.value_ = np.asarray(program.factors, dtype=np.float64)
    if whole:
        model.integrality_ = [highspy.HighsVarType.kInteger] * columns
    highs.passModel(model)
    return highs


def _open(limits: list[int]) -> Floats:
    array = np.asarray(limits, dtype=np.float64)
    array[array >= NO_LIMIT] = highspy.kHighsInf
    array[array <= -NO_LIMIT] = -highspy.kHighsInf
    return array


@cache
def _hear_greeting() -> None:
    """The first solver of a process prints a greeting before it can be told to be quiet; standard output may be
    somebody's JSON, so it goes nowhere.
    """
    try:
        kept = os.dup(1)
    except OSError:  # there is no standard output
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        highspy.Highs()
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)
