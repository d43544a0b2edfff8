"""One animal's case: what is known about it, parsed, validated and written."""
