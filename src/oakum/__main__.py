"""Entry point: `oakum ...` and `python -m oakum ...`."""

from __future__ import annotations

import sys


def main() -> None:
    """Run the command line. The version is answered without loading it."""
    if sys.argv[1:] == ["--version"]:
        from oakum import __version__

        print(__version__)
        return
    from oakum.cli.main import run

    run()


if __name__ == "__main__":
    main()
