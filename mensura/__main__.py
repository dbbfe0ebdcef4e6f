"""`python -m mensura` is the command `mensura`."""

from mensura.cli import main

if __name__ == "__main__":
    main()
