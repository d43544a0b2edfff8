"""Speed and size, measured side by side in one run. Run all: ``python -m benchmarks``."""
