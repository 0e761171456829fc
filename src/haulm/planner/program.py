"""The solver's own door: linear programmes solved warm, whole-number programmes within a limit.

Every call runs on one thread, and every status is checked before a figure is believed: mixing
thread counts in one process has been seen to give an objective of 0 without a word.
"""

from dataclasses import dataclass, replace

import highspy
import numpy as np

from haulm.measure.errors import HaulmError
from haulm.planner.arrays import Floats, Ints
from haulm.planner.assembler import LinearModel
from haulm.planner.stopping import Ear, Manner

FEASIBLE = 1e-9
BROKEN = 1e-7
EXACT = 1e-7
STALE = 1e-6
ATTEMPTS = 3
DUAL, PRIMAL = 1, 4
"""The solver's numbers for its simplex methods."""
LOWER = highspy.HighsBasisStatus.kLower
BASIC = highspy.HighsBasisStatus.kBasic
SLOW_SEARCHES = ("mip_heuristic_run_rens", "mip_heuristic_run_rins")
QUICK_SEARCHES = ("mip_heuristic_run_root_reduced_cost", "mip_heuristic_run_feasibility_jump")
"""The solver's own searches for good answers: the slow ones bring little here, and where only a
bound is wanted all are idle work."""


class SolverFailedError(HaulmError):
    """The solver ended without a solution where one must exist: haulm's own fault."""


@dataclass(frozen=True, slots=True)
class Solution:
    """Values of the columns, duals of the rows (0 where a row was not needed), the objective."""

    values: Floats
    row_dual: Floats
    reduced_cost: Floats
    objective: float


@dataclass(frozen=True, slots=True)
class Foothold:
    """Where a programme stands: the rows laid, in order, and its basis."""

    rows: Ints
    basis: highspy.HighsBasis


class AreaProgram:
    """A linear programme whose area columns are priced and bounded anew before each solving.

    Rows that wait are laid on once a solution breaks them, and stay.
    """

    def __init__(
        self, model: LinearModel, area: Ints, manner: Manner, foothold: Foothold | None = None
    ) -> None:
        self._model = model
        self._area = area.astype(np.int32)
        laid = ~model.waiting
        first = np.zeros(0, dtype=np.int64) if foothold is None else foothold.rows
        laid[first] = False
        self._order = np.concatenate([first, np.nonzero(laid)[0]])
        laid[first] = True
        self._laid = laid
        self._highs = quiet_solver(manner.seed)
        self._ear = _heard(self._highs, manner)
        self._highs.passModel(highs_model(model, self._order))
        if foothold is not None and foothold.basis.valid:
            basis = foothold.basis
            more_columns = len(model.cost) - len(basis.col_status)
            more_rows = len(self._order) - len(basis.row_status)
            basis.col_status = list(basis.col_status) + [LOWER] * more_columns
            basis.row_status = list(basis.row_status) + [BASIC] * more_rows
            self._highs.setBasis(basis)

    @property
    def foothold(self) -> Foothold:
        """Where it stands now; one over the same model with rows and columns added may set out."""
        return Foothold(self._order, self._highs.getBasis())

    def solve(
        self, cost: Floats, lower: Floats, upper: Floats, *, priced: bool = False
    ) -> Solution:
        """Solve with new cost and bounds on the areas, laying on what waits until all holds.

        ``priced`` says that only costs are new, so that the last solution is still feasible.
        """
        count = len(self._area)
        self._highs.setOptionValue("simplex_strategy", PRIMAL if priced else DUAL)
        self._highs.changeColsCost(count, self._area, cost)
        self._highs.changeColsBounds(count, self._area, lower, upper)
        while True:
            self._run()
            values = np.array(self._highs.getSolution().col_value)
            if not self._lay_on(values):
                return self._read(values)

    def _run(self) -> None:
        """Solve, from the last basis; where that ends in doubt go on from there, then from nothing.

        A warm basis may leave the solver a hair short of its tolerances, and at a loss.
        """
        for attempt in range(ATTEMPTS):
            if attempt == ATTEMPTS - 1:
                self._highs.clearSolver()
            self._highs.run()
            if self._ear is not None:
                self._ear.pass_on()
            status = self._highs.getModelStatus()
            if status == highspy.HighsModelStatus.kOptimal:
                return
            if status != highspy.HighsModelStatus.kUnknown:
                break
        raise SolverFailedError(self._highs.modelStatusToString(status))

    def _lay_on(self, values: Floats) -> bool:
        activity = self._model.matrix @ values
        broken = ~self._laid & (
            (activity > self._model.row_upper + BROKEN)
            | (activity < self._model.row_lower - BROKEN)
        )
        rows = np.nonzero(broken)[0]
        if len(rows) == 0:
            return False
        part = self._model.matrix[rows]
        self._highs.addRows(
            len(rows),
            self._model.row_lower[rows],
            self._model.row_upper[rows],
            part.nnz,
            part.indptr[:-1].astype(np.int32),
            part.indices.astype(np.int32),
            part.data,
        )
        self._laid[rows] = True
        self._order = np.concatenate([self._order, rows])
        return True

    def _read(self, values: Floats) -> Solution:
        solution = self._highs.getSolution()
        row_dual = np.zeros(len(self._laid))
        row_dual[self._order] = solution.row_dual
        return Solution(
            values=values,
            row_dual=row_dual,
            reduced_cost=np.array(solution.col_dual),
            objective=self._highs.getInfo().objective_function_value,
        )


def solve_relaxed(model: LinearModel, manner: Manner) -> Solution:
    """Solve a model as a linear programme, its whole numbers let go."""
    none = np.zeros(0)
    free = replace(model, whole=np.zeros_like(model.whole))
    return AreaProgram(free, none.astype(np.int64), manner).solve(none, none, none)


@dataclass(frozen=True, slots=True)
class WholeNumberAnswer:
    """The best values found (None if none), their objective, and a proven lower bound."""

    values: Floats | None
    objective: float
    bound: float


def solve_whole(
    model: LinearModel,
    manner: Manner,
    nodes: int,
    gaps: tuple[float, float] = (0.0, EXACT),
    start: Floats | None = None,
    *,
    dives: bool = True,
) -> WholeNumberAnswer:
    """Solve a whole-number programme within a number of nodes, from a start where one is given.

    ``gaps`` are the relative and the absolute gap at which the solver may stop; without ``dives``
    it looks for a bound alone.
    """
    highs = quiet_solver(manner.seed)
    ear = _heard(highs, manner)
    highs.setOptionValue("mip_allow_restart", False)  # noqa: FBT003 - the solver's own signature
    for search in SLOW_SEARCHES if dives else (*SLOW_SEARCHES, *QUICK_SEARCHES):
        highs.setOptionValue(search, False)  # noqa: FBT003 - the solver's own signature
    highs.setOptionValue("mip_max_nodes", nodes)
    highs.setOptionValue("mip_rel_gap", gaps[0])
    highs.setOptionValue("mip_abs_gap", gaps[1])
    highs.passModel(highs_model(model, np.arange(len(model.row_lower))))
    if start is not None:
        solution = highspy.HighsSolution()
        solution.col_value = start.tolist()
        highs.setSolution(solution)
    highs.run()
    if ear is not None:
        ear.pass_on()
    status = highs.getModelStatus()
    if status not in {
        highspy.HighsModelStatus.kOptimal,
        highspy.HighsModelStatus.kSolutionLimit,
        highspy.HighsModelStatus.kTimeLimit,
        highspy.HighsModelStatus.kIterationLimit,
    }:
        raise SolverFailedError(highs.modelStatusToString(status))
    info = highs.getInfo()
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    bound = float(info.mip_dual_bound)
    if not found:
        return WholeNumberAnswer(None, np.inf, bound)
    values = np.array(highs.getSolution().col_value)
    objective = float(model.cost @ values)
    stale = objective - info.objective_function_value > STALE * (1.0 + abs(objective))
    if stale and start is not None:
        # Solved in presolve, the solver may hand back the start with the better plan's objective.
        return solve_whole(model, manner, nodes, gaps, dives=dives)
    return WholeNumberAnswer(values, objective, bound)


class _Silent(highspy.Highs):
    """A solver that does not even print its banner, which it does when callbacks are set up."""

    def enableCallbacks(self) -> None:  # noqa: N802 - the solver's own name
        """Fall silent before the callbacks are set up."""
        self.silent()
        super().enableCallbacks()  # type: ignore[no-untyped-call]


def _heard(highs: highspy.Highs, manner: Manner) -> Ear | None:
    """Let whoever watches break a solver off; None where nobody watches."""
    if manner.look_up is None:
        return None
    ear = Ear(manner.look_up)
    ear.listen(highs)
    return ear


def quiet_solver(seed: int) -> highspy.Highs:
    """Open a solver that prints nothing, runs on one thread and draws from a seed."""
    highs = _Silent()  # type: ignore[no-untyped-call]
    highs.setOptionValue("threads", 1)
    highs.setOptionValue("parallel", "off")
    highs.setOptionValue("random_seed", seed % 2**31)
    highs.setOptionValue("primal_feasibility_tolerance", FEASIBLE)
    return highs


def highs_model(model: LinearModel, rows: Ints) -> highspy.HighsLp:
    """Hand over the model with the rows named."""
    part = model.matrix[rows]
    lp = highspy.HighsLp()
    lp.num_col_ = len(model.cost)
    lp.num_row_ = len(rows)
    lp.col_cost_ = model.cost
    lp.col_lower_ = model.lower
    lp.col_upper_ = model.upper
    lp.row_lower_ = model.row_lower[rows]
    lp.row_upper_ = model.row_upper[rows]
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = part.indptr.astype(np.int32)
    lp.a_matrix_.index_ = part.indices.astype(np.int32)
    lp.a_matrix_.value_ = part.data
    if model.whole.any():
        lp.integrality_ = [
            highspy.HighsVarType.kInteger if whole else highspy.HighsVarType.kContinuous
            for whole in model.whole
        ]
    return lp
