# Two commands do everything: `make demo` and `make test`. Each sets up what it needs.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
DEMO_DAY := 2027-02-01
SOURCES := $(shell find src -type f -not -name '*.pyc' 2>/dev/null)
export PIP_DISABLE_PIP_VERSION_CHECK := 1
export PYTHONDONTWRITEBYTECODE := 1

.PHONY: serve demo pictures test browser check bench words lock clean format

serve: $(VENV)/ready  ## open the pages of your garden in a browser; the notebook lies in garden/
	mkdir -p garden
	$(BIN)/haulm serve garden/garden.haulm

demo: $(VENV)/ready  ## plan the demo garden and print every sheet under out/demo
	mkdir -p out/demo
	$(BIN)/haulm import src/haulm/examples/torrenz/garden.toml out/demo/torrenz.haulm
	$(BIN)/haulm plan out/demo/torrenz.haulm --on $(DEMO_DAY)
	$(BIN)/haulm sheets out/demo/torrenz.haulm --out out/demo --on $(DEMO_DAY)

pictures: demo  ## draw the README's pictures anew from the demo
	$(BIN)/python docs/draw_pictures.py out/demo/torrenz.haulm docs/pictures $(DEMO_DAY)

test: check browser build/wheel/ready  ## every check, then every test against the built wheel
	PYTHONPATH=build/wheel/site HAULM_WHEEL=$(CURDIR)/build/wheel/site $(BIN)/python -m pytest

# The pages are tested in a real browser; without one the tests fail and say so.
browser:  ## Chromium, installed where this machine lets us
	@command -v chromium > /dev/null || command -v chromium-browser > /dev/null || \
	  command -v google-chrome > /dev/null || { \
	  [ "$$(id -u)" = 0 ] && command -v apt-get > /dev/null && \
	  apt-get -qq update && apt-get -qq install --yes chromium > /dev/null; } || \
	  echo "There is no Chromium, and it could not be installed here: install your system's." >&2

check: $(VENV)/ready  ## lint, types, docstrings and the import contract alone
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/interrogate -q src tests benchmarks
	$(BIN)/lint-imports

bench: $(VENV)/ready  ## speed and memory, as ratios in one run
	$(BIN)/python -m benchmarks.plan
	$(BIN)/python -m benchmarks.layout
	$(BIN)/python -m benchmarks.pages
	$(BIN)/python -m benchmarks.water
	$(BIN)/python -m benchmarks.windows
	$(BIN)/python -m benchmarks.forecast
	$(BIN)/python -m benchmarks.land
	$(BIN)/python -m benchmarks.deciding
	$(BIN)/python -m benchmarks.season

format: $(VENV)/ready
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

words: $(VENV)/ready  ## renew the catalogue of the pages' words
	$(BIN)/pybabel -q extract -F pyproject.toml -k noted --omit-header --no-location --sort-output -o src/haulm/web/locale/haulm.pot src/haulm/web

lock: $(VENV)/ready  ## renew the pinned versions and hashes
	$(BIN)/pip-compile -q --extra phone --upgrade --strip-extras --generate-hashes --no-header --no-annotate --no-emit-index-url --no-emit-find-links --no-emit-trusted-host --allow-unsafe --output-file requirements/run.txt pyproject.toml
	$(BIN)/pip-compile -q --extra phone --upgrade --strip-extras --generate-hashes --no-header --no-annotate --no-emit-index-url --no-emit-find-links --no-emit-trusted-host --allow-unsafe --output-file requirements/dev.txt --constraint requirements/run.txt pyproject.toml requirements/dev.in

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
