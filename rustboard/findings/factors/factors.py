"""Finish and protectant apart: what each does alone, and whether what one does depends on the other."""

from __future__ import annotations

from rustboard.findings.compare.model import BoardModel
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.factors.effects import (
    additive_error,
    additive_model,
    interaction_test,
    interactions,
    main_effects,
)
from rustboard.findings.factors.grid import FACTORS, grid_cells, grid_of
from rustboard.findings.factors.results import FactorFindings


def factor_findings(subject: Subject) -> FactorFindings | None:
    """Return what finish and protectant do.

    The model is that of the comparisons: a mean for every treatment, one for every row where rows are blocks, and one
    error of all groups, controls among them. Where nothing on the board was done twice, what finish and protectant do
    not explain together is taken for the error, and only the main effects can be told (``whole`` is False then).

    None where no two finishes were tried with one same protectant, or no two protectants with one same finish.
    """
    grid = grid_of(subject)
    if grid is None:
        return None
    model = BoardModel(subject)
    additive = additive_model(model, grid)
    own = model.error
    error = own or additive_error(model, additive)
    main = (
        ()
        if error is None
        else tuple(
            effect
            for factor in FACTORS
            for effect in main_effects(model, grid, factor, error, None if own else additive)
        )
    )
    return FactorFindings(
        tuple(grid.name("finish", each) for each in grid.finishes),
        tuple(grid.name("protectant", each) for each in grid.protectants),
        grid_cells(subject, grid),
        main,
        () if own is None else interactions(model, grid, own),
        interaction_test(model, additive),
        grid.complete,
        own is not None,
    )
