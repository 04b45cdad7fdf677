# One command for each thing; `make` alone lists them. Everything is installed into .venv, at the versions pinned in constraints.txt.

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
STAMP := $(VENV)/installed
MODULES ?= schedules/round schedules/review/missed schedules/session

.DEFAULT_GOAL := help
.PHONY: help install demo test test-browser quick lint types modules docs check bench bench-planner bench-ledger bench-stores bench-amounts bench-delivery mutants pictures clean

help: ## List the commands
	@grep -E '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed 's/:.*## /\t/' | expand -t 16

$(STAMP): pyproject.toml constraints.txt
	$(PYTHON) -c 'import sys; sys.exit("Python 3.11 or newer is needed, this is " + sys.version.split()[0] if sys.version_info < (3, 11) else 0)'
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --constraint constraints.txt --editable '.[shared,browser,paper,docs,dev,reference]'
	touch $(STAMP)

install: $(STAMP) ## Install the program and its tools into .venv

demo: $(STAMP) ## Open the invented room of 48 tanks
	$(BIN)/rackround demo

test: $(STAMP) ## Run all tests, on every core
	$(BIN)/python -P -m pytest -n auto --dist worksteal

test-browser: $(STAMP) ## Run the tests in a real browser; Chromium and ChromeDriver have to be installed
	BROWSER_TESTS=1 $(BIN)/python -P -m pytest tests/browser

quick: $(STAMP) ## Run the tests that take under a minute together, for work in progress
	$(BIN)/python -P -m pytest -n auto --dist worksteal -m "not long"

lint: $(STAMP) ## Look for faults of style and form
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/lint-imports --no-logo --no-cache

types: $(STAMP) ## Check the types
	$(BIN)/mypy

modules: $(STAMP) ## Write what is made from the code: the lists of modules, MODULES.md, and the manual page
	$(BIN)/python -m tests.house.modules

docs: $(STAMP) ## Build the documentation as pages into docs/site; a link that leads nowhere fails
	NO_MKDOCS_2_WARNING=1 $(BIN)/python -P -m mkdocs build --quiet --strict --config-file docs/mkdocs.yml

check: lint types docs test ## All of it, as .ci/run does

bench: $(STAMP) ## Print start-up, key to repaint and memory as ratios to a bare Textual app
	$(BIN)/python -m tests.bench.screens

bench-planner: $(STAMP) ## Print how good and how fast the planner is beside CP-SAT
	$(BIN)/python -m tests.bench.plan_bench

bench-stores: $(STAMP) ## Print the ledger in a file and on a server side by side, and twenty keepers on each
	$(BIN)/python -m tests.bench.ledger_stores

bench-ledger: $(STAMP) ## Print what ten years of ledger cost beside a month
	$(BIN)/python -m tests.bench.ledger_bench

bench-amounts: $(STAMP) ## Print amounts by the ledger beside a fixed spoon and the label
	$(BIN)/python -m tests.bench.amounts_sim

bench-delivery: $(STAMP) ## Print what plans bring to the animals, and what a morning's preparation takes
	$(BIN)/python -m tests.bench.delivery

mutants: $(STAMP) ## Put small faults into a copy and print how many the tests find; MODULES="schedules/round ..."
	$(BIN)/python -m tests.bench.mutants $(MODULES)

pictures: $(STAMP) ## Make the README's pictures again, from the demo room
	$(BIN)/python -m tests.pictures

clean: ## Remove what was installed and made
	rm -rf $(VENV) build dist docs/site *.egg-info .mypy_cache .ruff_cache .pytest_cache .hypothesis
