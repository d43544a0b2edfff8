"""One animal's case: what is known about it, parsed, validated and written."""

from baskwell.science.case.describe import FieldDescription, describe_fields
from baskwell.science.case.model import Case
from baskwell.science.case.problem import CaseFileError, CaseReading, Problem
from baskwell.science.case.reader import parse_case, read_case
from baskwell.science.case.writer import write_case

__all__ = [
    "Case",
    "CaseFileError",
    "CaseReading",
    "FieldDescription",
    "Problem",
    "describe_fields",
    "parse_case",
    "read_case",
    "write_case",
]
