# Two commands do everything: `make demo` and `make test`. Each sets up what it needs.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
DEMO_DAY := 2027-02-01
SOURCES := $(shell find src -type f -not -name '*.pyc' 2>/dev/null)
export PIP_DISABLE_PIP_VERSION_CHECK := 1
export PYTHONDONTWRITEBYTECODE := 1

.PHONY: demo pictures test check bench lock clean format

demo: $(VENV)/ready  ## plan the demo garden and print every sheet under out/demo
	mkdir -p out/demo
	$(BIN)/haulm import examples/torrenz/garden.toml out/demo/torrenz.haulm
	$(BIN)/haulm plan out/demo/torrenz.haulm --on $(DEMO_DAY)
	$(BIN)/haulm sheets out/demo/torrenz.haulm --out out/demo --on $(DEMO_DAY)

pictures: demo  ## draw the README's pictures anew from the demo
	$(BIN)/python docs/draw_pictures.py out/demo/torrenz.haulm docs/pictures $(DEMO_DAY)

test: check build/wheel/ready  ## every check, then every test against the built wheel
	PYTHONPATH=build/wheel/site HAULM_WHEEL=$(CURDIR)/build/wheel/site $(BIN)/python -m pytest

check: $(VENV)/ready  ## lint, types, docstrings and the import contract alone
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/interrogate -q src tests benchmarks
	$(BIN)/lint-imports

bench: $(VENV)/ready  ## speed and memory, as ratios in one run
	$(BIN)/python -m benchmarks.plan
	$(BIN)/python -m benchmarks.layout

format: $(VENV)/ready
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

lock: $(VENV)/ready  ## renew the pinned versions and hashes
	$(BIN)/pip-compile -q --upgrade --strip-extras --generate-hashes --no-header --no-annotate --no-emit-index-url --no-emit-find-links --no-emit-trusted-host --allow-unsafe --output-file requirements/run.txt pyproject.toml
	$(BIN)/pip-compile -q --upgrade --strip-extras --generate-hashes --no-header --no-annotate --no-emit-index-url --no-emit-find-links --no-emit-trusted-host --allow-unsafe --output-file requirements/dev.txt --constraint requirements/run.txt pyproject.toml requirements/dev.in

$(VENV)/ready: requirements/dev.txt pyproject.toml
	$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11) and "haulm needs Python 3.11 or newer")'
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --require-hashes --requirement requirements/dev.txt
	$(BIN)/python -m pip install --quiet --no-deps --no-build-isolation --editable .
	touch $@

build/wheel/ready: $(SOURCES) pyproject.toml README.md $(VENV)/ready
	rm -rf build/wheel
	$(BIN)/python -m build --wheel --no-isolation --outdir build/wheel . > /dev/null
	$(BIN)/python -m pip install --quiet --no-deps --target build/wheel/site build/wheel/*.whl
	touch $@

clean:
	rm -rf $(VENV) build dist out .bench
