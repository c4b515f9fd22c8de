"""What was planned, handed out and done: one SQLite file beside the block file, which only grows."""

from planner.ledger.errors import (
    LedgerBusy,
    LedgerDamaged,
    LedgerError,
    LedgerMissing,
    LedgerMoved,
    LedgerTooNew,
    LedgerUnknown,
    LedgerUnwritable,
)
from planner.ledger.file import ledger_path
from planner.ledger.forgetting import Rewriting
from planner.ledger.rescue import Rescue, damage, rescue
from planner.ledger.rows import HistoryRow, StoredPlan
from planner.ledger.store import Ledger

__all__ = [
    "HistoryRow",
    "Ledger",
    "LedgerBusy",
    "LedgerDamaged",
    "LedgerError",
    "LedgerMissing",
    "LedgerMoved",
    "LedgerTooNew",
    "LedgerUnknown",
    "LedgerUnwritable",
    "Rescue",
    "Rewriting",
    "StoredPlan",
    "damage",
    "ledger_path",
    "rescue",
]
