# The one list of recipes, for people and for CI. Needs Python 3.11 with venv, and make.
PYTHON ?= python3.11
BIN := .venv/bin

.PHONY: demo test quick check fix types lint contracts docs bench lock clean

## demo: review three invented animals of Harrow Mill and write their pages to demo-output/
demo: .venv/core
	$(BIN)/python examples/harrow_mill/run.py demo-output

## test: everything CI checks
test: check docs
	$(BIN)/pytest -n 2

## quick: the tests that take under a minute together
quick: .venv/dev
	$(BIN)/pytest -n 2 -m "not slow"

## check: format, lint, types, import contracts, evidence
check: lint types contracts
	$(BIN)/baskwell evidence check

lint: .venv/dev
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .

types: .venv/dev
	$(BIN)/mypy

contracts: .venv/dev
	$(BIN)/lint-imports

## fix: repair what the linters can repair
fix: .venv/dev
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

## docs: build the manual with warnings as errors
docs: .venv/dev
	$(BIN)/sphinx-build -q -W -j auto -b html docs docs/_build/html

## bench: speed as ratios in one run
bench: .venv/dev
	$(BIN)/python -m benchmarks

## lock: pin every dependency with its hashes
lock: .venv/dev
	cd requirements && for set in build core dev; do ../$(BIN)/uv pip compile -q --python-version 3.11 --generate-hashes \
		--no-emit-index-url --custom-compile-command "make lock" $$set.in -o $$set.txt; done

.venv/core: requirements/core.txt pyproject.toml
	test -x $(BIN)/python || $(PYTHON) -m venv .venv
	$(BIN)/pip install --quiet --disable-pip-version-check --require-hashes --only-binary :all: -r requirements/build.txt -r requirements/core.txt
	$(BIN)/pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	touch $@

.venv/dev: requirements/dev.txt .venv/core
	$(BIN)/pip install --quiet --disable-pip-version-check --require-hashes --only-binary :all: -r requirements/dev.txt
	touch $@

clean:
	rm -rf .venv demo-output docs/_build .mypy_cache .ruff_cache .pytest_cache
