.POSIX:
.PHONY: help demo check test bench format pins clean distclean

help:
	@echo 'make demo       set up what is missing, write the demo site into ./fernhollow and plan it'
	@echo 'make check      set up, then format, lint, types, import floors, tests and docs'
	@echo 'make test       the tests alone; ARGS="-k name" goes to pytest'
	@echo 'make bench      every benchmark in benchmarks/'
	@echo 'make format     format the sources and sort their imports'
	@echo 'make pins       write requirements/*.txt from pyproject.toml; UPGRADE=yes takes the newest'
	@echo 'make clean      remove caches and bytecode; make distclean removes .venv as well'

demo:
	@sh tools/bootstrap.sh run
	.venv/bin/sinkside demo

check:
	@sh tools/check.sh

test:
	@sh tools/bootstrap.sh programs check
	.venv/bin/pytest $(ARGS)

# Without written bytecode every import compiles again, which would be measured too.
bench:
	@sh tools/bootstrap.sh check
	@for file in benchmarks/bench_*.py; do \
		test -f "$$file" || { echo 'benchmarks/ holds no bench_*.py' >&2; exit 1; }; \
		echo "-- $$file"; \
		env -u PYTHONDONTWRITEBYTECODE .venv/bin/python "$$file" || exit; \
	done

format:
	@sh tools/bootstrap.sh check
	.venv/bin/ruff check --select I --fix .
	.venv/bin/ruff format .

pins:
	@sh tools/bootstrap.sh check
	@UPGRADE=$(UPGRADE) sh tools/pins.sh

clean:
	rm -rf build dist .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
	find . -path ./.venv -prune -o -name __pycache__ -type d -prune -exec rm -rf {} +

# The demo site in ./fernhollow stays: it may hold somebody's changes.
distclean: clean
	rm -rf .venv src/sinkside.egg-info
