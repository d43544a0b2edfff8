"""Row classes of the evidence tables."""
