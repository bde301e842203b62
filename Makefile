PY ?= python3
N ?= 1000000
CARDS ?= 100000
SEQUENCES ?= 3000
KILLS ?= 200
VENV := .venv
BIN := $(VENV)/bin
LOWEST := $(VENV)-lowest
NEWEST := $(VENV)-newest
STAMP := $(VENV)/.installed
EVERY_CHANGE := -n 2 --dist loadfile -m "not study and not small_study and not spark and not long"
AXE_VERSION := 4.14.1
AXE := node_modules/.axe-core-$(AXE_VERSION)

# Python keeps what it compiled, whatever the shell says: the tests start it over and over.
export PYTHONDONTWRITEBYTECODE :=

.PHONY: docs-site demo test check lowest newest coverage study fuzz crash spark bench docs wheel clean
.DEFAULT_GOAL := test

$(STAMP): pyproject.toml
	test -x $(BIN)/python || $(PY) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[test]'
	touch $(STAMP)

# axe-core judges how accessible the report is; without it that test alone is skipped.
$(AXE):
	@npm install --prefix . --no-save --no-package-lock --no-audit --no-fund --ignore-scripts --silent \
		axe-core@$(AXE_VERSION) && touch $(AXE) || echo "axe-core is not installed: npm is missing or failed"

# Writes reports/demo/, which git ignores: whoever tries the demo changes no file of the project.
demo: $(STAMP)
	$(BIN)/sgzone demo

# For every change: what each part of the package says, in some four minutes on two cores.
test: $(STAMP)
	$(BIN)/python -m pytest $(EVERY_CHANGE)

# Before a change goes in: lint, types, and every test. The long ones are what it withstands: kills
# and full disks, a browser, an installed wheel, the same question many times over. The random
# sequences over season files are timed apart, and so is each study in small, with the planted
# faults that fail it.
check: $(STAMP) $(AXE)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/python -m pytest -n 2 --dist loadfile -m "not study and not small_study and not spark" \
		--ignore=tests/hard/test_model.py --ignore=tests/docs/test_site.py
	$(BIN)/python -m pytest -n 2 --dist load -rP tests/hard/test_model.py
	@echo "The pages as a site, timed apart:"
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[docs]' \
		|| echo "No Sphinx to be had: the site stays unbuilt"
	$(BIN)/python -m pytest -n 0 -m long --durations=3 tests/docs/test_site.py
	@echo "The studies in small, timed apart:"
	$(BIN)/python -m pytest -n 2 --dist loadfile -m small_study --durations=10 tests/study

# The selection of `make test` on the lowest versions that pyproject.toml lets in, and on the newest
# that another Python finds: make newest PY=python3.13. TESTS names some of the tests.
lowest: tests/lowest.txt pyproject.toml
	test -x $(LOWEST)/bin/python || $(PY) -m venv $(LOWEST)
	$(LOWEST)/bin/python -m pip install --quiet --disable-pip-version-check \
		--constraint tests/lowest.txt --editable '.[test]'
	$(LOWEST)/bin/python -m pytest $(EVERY_CHANGE) $(TESTS)

newest: pyproject.toml
	test -x $(NEWEST)/bin/python || $(PY) -m venv $(NEWEST)
	$(NEWEST)/bin/python -m pip install --quiet --disable-pip-version-check --upgrade \
		--upgrade-strategy eager --editable '.[test]'
	$(NEWEST)/bin/python -m pytest $(EVERY_CHANGE) $(TESTS)

# Lines and branches of every test; about twice as long as `make check`.
coverage: $(STAMP) $(AXE)
	$(BIN)/python -m pytest -n 2 --dist loadfile -m "not study and not small_study and not spark" --cov --cov-report=term

# The whole studies: the figures of the docs are theirs. Hours, not minutes, on a busy machine.
study: $(STAMP)
	$(BIN)/python -m pytest -n 2 -m "study and not spark"

# The step of its own for Spark: pyspark is large, and nobody else needs it or Java.
spark: $(STAMP)
	@if ! java -version 2>&1 | grep -Eq 'version "(17|21)'; then \
		echo "make spark: skipped, no Java 17 or 21 on the PATH (Debian: openjdk-17-jre-headless)"; \
	elif ! $(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[spark]'; then \
		echo "make spark: skipped, pyspark cannot be installed"; \
	else \
		$(BIN)/python -m pytest -m spark -rs; \
	fi

# Hard use: cards through the command line, from another seed each time (a night's work: each card
# costs the database some 100 ms), sequences over season files, and loads killed at random moments.
fuzz: $(STAMP)
	$(BIN)/python -m tests.hard.night --sequences $(SEQUENCES)
	$(BIN)/python -m tests.hard.night --cards $(CARDS)

crash: $(STAMP)
	SGZONE_KILLS=$(KILLS) $(BIN)/python -m pytest -rP tests/hard/test_crash.py tests/hard/test_upgrade.py

docs: demo
	$(BIN)/python -m tests.docs.generate
	$(BIN)/python -m tests.docs.pictures
	cp reports/demo/report.pdf reports/season.pdf
	if command -v pdftoppm >/dev/null; then pdftoppm -r 72 -png reports/season.pdf reports/season-page; fi

# The pages as a site in build/site, offline; whatever Sphinx warns of fails it.
docs-site: $(STAMP)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[docs]'
	$(BIN)/python -m sphinx -q -W --keep-going -b html docs build/site

bench: $(STAMP)
	$(BIN)/python -m tests.bench $(N)

wheel: $(STAMP)
	$(BIN)/python -m pip wheel --quiet --no-deps --wheel-dir dist .

clean:
	rm -rf $(VENV) $(LOWEST) $(NEWEST) node_modules dist build .pytest_cache .mypy_cache .ruff_cache .hypothesis
