# The commands of this project. A fresh machine needs only make and python3 >= 3.11 with venv.
#
#   make demo    plan the demo jobs, write their packets under out/
#   make test    everything that CI checks
#   make help    the rest

PYTHON ?= python3
VENV   := .venv
PY     := $(VENV)/bin/python
CODE   := src tests tools $(wildcard benchmarks)
PIP    := $(PY) -m pip install --disable-pip-version-check --no-input -qq
UV     := $(VENV)/bin/uv
LOCK   := $(UV) pip compile $(UPGRADE) --quiet --universal --python-version 3.11 \
          --generate-hashes --no-emit-index-url --no-header

.DELETE_ON_ERROR:
.NOTPARALLEL:
.PHONY: help demo dev test check format docs language docs-check pytest bench oldest lock clean

help: ## say what each command does
	@awk -F ':.*## ' '/^[a-z-]+:.*## / {printf "  make %-11s %s\n", $$1, $$2}' Makefile

# ---------------------------------------------------------------------------------------- for everyone

demo: $(VENV)/runtime ## plan the demo jobs of the lodge; their packets go to out/
	@$(PY) -m compileall -q src
	@$(PY) tools/demo.py

test: check docs-check pytest ## everything that CI checks

# ------------------------------------------------------------------------------------- the environment
# A stamp is made when its step has worked; a changed lock file repeats the step.

$(VENV)/pyvenv.cfg:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null || { \
	    echo 'hangtrue needs Python 3.11 or newer as "$(PYTHON)"; this machine has:' \
	         "$$($(PYTHON) --version 2>&1). Try: make PYTHON=python3.12 <command>" >&2; exit 1; }
	@$(PYTHON) -m venv $(VENV) || { rm -rf $(VENV); \
	    echo 'Python is here but its venv module is not; install it (on Debian: python3-venv).' >&2; exit 1; }

$(VENV)/locked: $(VENV)/pyvenv.cfg requirements/build.txt requirements/runtime.txt
	@echo 'installing the runtime into $(VENV)'
	@$(PIP) --require-hashes -r requirements/build.txt -r requirements/runtime.txt
	@touch $@

$(VENV)/runtime: $(VENV)/locked pyproject.toml
	@$(PIP) --no-index --no-deps --no-build-isolation --editable .
	@touch $@

$(VENV)/dev: $(VENV)/runtime requirements/dev.txt
	@echo 'installing the development tools into $(VENV)'
	@$(PIP) --require-hashes -r requirements/dev.txt
	@touch $@

dev: $(VENV)/dev ## make .venv with the development tools

$(VENV)/bench: $(VENV)/dev requirements/bench.txt
	@echo 'installing what stands beside in benchmarks'
	@$(PIP) --require-hashes -r requirements/bench.txt
	@touch $@

# ------------------------------------------------------------------------------------------ the checks

check: $(VENV)/dev ## format, lint, types and the import contract
	$(PY) -m ruff format --check $(CODE)
	$(PY) -m ruff check $(CODE)
	$(PY) -m mypy $(CODE)
	$(VENV)/bin/lint-imports --no-logo

format: $(VENV)/dev ## put the code into its format, mend what lint can mend
	$(PY) -m ruff format $(CODE)
	$(PY) -m ruff check --fix $(CODE)

docs: $(VENV)/dev ## write the generated pages
	$(PY) tools/docs.py

language: $(VENV)/dev ## put new messages into the catalogs and compile them
	$(PY) tools/language.py

docs-check: $(VENV)/dev
	$(PY) tools/docs.py --check
	$(PY) tools/language.py --check

pytest: $(VENV)/dev ## the tests alone
	@$(PY) -m compileall -q src
	$(PY) -m pytest

bench: $(VENV)/bench ## the speed figures of docs/benchmarks.md
	@$(PY) -m compileall -q src
	$(PY) benchmarks/run.py

# ------------------------------------------------------------------------------------------ upkeep

oldest: $(VENV)/dev ## run the tests on the oldest releases that pyproject.toml allows
	$(UV) pip compile --quiet --upgrade --resolution lowest-direct pyproject.toml -o $(VENV)/oldest.txt
	$(UV) venv --quiet --clear --python $(PY) $(VENV)/oldest
	$(UV) pip install --quiet --compile-bytecode --python $(VENV)/oldest/bin/python \
	    -r $(VENV)/oldest.txt --group dev --editable .
	$(VENV)/oldest/bin/python -m pytest -o filterwarnings=default --ignore tests/smoke --ignore tests/structure

lock: $(VENV)/dev ## renew the lock files (UPGRADE=--upgrade takes newer releases)
	$(LOCK) --group build -o requirements/build.txt
	$(LOCK) pyproject.toml -o requirements/runtime.txt
	$(LOCK) --group dev -c requirements/build.txt -c requirements/runtime.txt -o requirements/dev.txt
	$(LOCK) --group bench -c requirements/runtime.txt -c requirements/dev.txt -o requirements/bench.txt

clean: ## remove all that these commands made
	rm -rf $(VENV) out build dist .hypothesis .import_linter_cache .mypy_cache .pytest_cache .ruff_cache
	find src tests tools -name __pycache__ -type d -prune -exec rm -rf {} +
