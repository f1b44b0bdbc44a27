"""Run the command line with ``python -m bedview``."""

from bedview.cli import main

if __name__ == "__main__":
    main()
