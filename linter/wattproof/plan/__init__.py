"""The plan language: models of what a builder declares, and the reader that fills them."""

from wattproof.plan.read import load_plan
from wattproof.plan.references import components
from wattproof.plan.root import Plan

__all__ = ["Plan", "components", "load_plan"]
