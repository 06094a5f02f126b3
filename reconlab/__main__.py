"""``python -m reconlab`` is the shell command, where its own name is not on the path."""

from reconlab.cli import main

if __name__ == "__main__":
    main()
