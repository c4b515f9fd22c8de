"""Findings, score, reasons: what a plan amounts to by the rule book. No solver is needed."""
