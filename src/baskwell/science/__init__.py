"""What is computed: pure functions on frozen data. No database, no web, no clock, no files."""
