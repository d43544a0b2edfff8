"""What is known: tables with units, grades and sources, one loader, no calculation."""

from baskwell.evidence.catalogue import Evidence, Source
from baskwell.evidence.loader import load_evidence

__all__ = ["Evidence", "Source", "load_evidence"]
