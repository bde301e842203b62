PY ?= python3
VENV := .venv
BIN := $(VENV)/bin
STAMP := $(VENV)/.installed

.PHONY: demo test check study bench docs wheel clean
.DEFAULT_GOAL := test

$(STAMP): pyproject.toml
	test -x $(BIN)/python || $(PY) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[test]'
	touch $(STAMP)

demo: $(STAMP)
	$(BIN)/sgzone demo

test: $(STAMP)
	$(BIN)/python -m pytest -n 2 --dist loadfile -m "not study"

check: $(STAMP)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(MAKE) test

study: $(STAMP)
	$(BIN)/python -m pytest -n 2 -m study

docs: $(STAMP)
	$(BIN)/python -m tests.docs.generate

bench: $(STAMP)
	$(BIN)/python -m tests.bench

wheel: $(STAMP)
	$(BIN)/python -m pip wheel --quiet --no-deps --wheel-dir dist .

clean:
	rm -rf $(VENV) dist build .pytest_cache .mypy_cache .ruff_cache .hypothesis
