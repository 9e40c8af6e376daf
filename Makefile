# Two commands for everybody: `make demo` and `make test`. Both make their own virtual environment.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
STAMP := $(VENV)/.installed

.PHONY: demo test lint types golden schemas bench clean

$(STAMP): pyproject.toml
	$(PYTHON) -c 'import sys; sys.exit("Python 3.11 or later is needed") if sys.version_info < (3, 11) else None'
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[test]' \
		--config-settings editable_mode=compat
	$(BIN)/python -m compileall -q checker
	$(BIN)/python -m checker.rulebook.keep
	touch $(STAMP)

# Checks the released sample wall and its earlier revision, and writes their reports to out/.
demo: $(STAMP)
	@mkdir -p out
	$(BIN)/pullpoint check samples/recovery-wall.yaml
	@echo
	@echo "The earlier revision, with its mistakes (exit status 1 is what it should give):"
	$(BIN)/pullpoint check samples/recovery-wall-rev-b.yaml || test $$? -eq 1
	$(BIN)/pullpoint report samples/recovery-wall-rev-b.yaml --output out/recovery-wall-rev-b.pdf || test $$? -eq 1
	$(BIN)/pullpoint report samples/recovery-wall-rev-b.yaml --output out/recovery-wall-rev-b.html || test $$? -eq 1
	@echo "Written: out/recovery-wall-rev-b.pdf and out/recovery-wall-rev-b.html"

test: lint types $(STAMP)
	$(BIN)/pullpoint rules test
	$(BIN)/python -m pytest -n 2

lint: $(STAMP)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/lint-imports

types: $(STAMP)
	$(BIN)/mypy

# Regenerates the findings kept beside the samples; read the difference before you keep it.
golden: $(STAMP)
	$(BIN)/python tests/contract/golden.py

schemas: $(STAMP)
	$(BIN)/python -m checker.schemas.generate
	$(BIN)/pullpoint rules document --language --output rules/LANGUAGE.md

bench: $(STAMP)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check simpleeval rule-engine cel-python
	$(BIN)/python benchmarks/run.py

clean:
	rm -rf $(VENV) out build dist *.egg-info checker/kept
