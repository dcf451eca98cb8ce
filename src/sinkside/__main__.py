"""The command line as `python -m sinkside`."""

from sinkside.cli import main

if __name__ == "__main__":
    main()
