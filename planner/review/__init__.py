"""Findings, score, reasons: what a plan amounts to by the rule book. No solver is needed."""

from planner.review.findings import review, score, sentence

__all__ = ["review", "score", "sentence"]
