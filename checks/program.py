"""The built program, asked as a person would ask it."""

import json
import os
import subprocess
from pathlib import Path


class Program:
    """Runs one verb at a time, in a folder of its own."""

    def __init__(self, path, folder):
        self.path = path
        self.folder = Path(folder)

    def result(self, *arguments):
        """The finished process, whatever it answered."""
        return subprocess.run(
            [self.path, *map(str, arguments)],
            cwd=self.folder,
            capture_output=True,
            text=True,
            check=False,
            env={**os.environ, "NO_COLOR": "1"},
        )

    def __call__(self, *arguments):
        """What it printed; a refusal ends the check with its words."""
        done = self.result(*arguments)
        said = f"quillwort {' '.join(map(str, arguments))}\n{done.stdout}{done.stderr}"
        assert done.returncode == 0, said
        return done.stdout

    def json(self, *arguments):
        """What it printed, as JSON."""
        return json.loads(self(*arguments, "--json"))

    def book(self, name, *options):
        """A new lake book."""
        self("new", f"{name}.gpkg", "--name", name, *options)
        return f"{name}.gpkg"

    def at(self, folder):
        """The same program in another folder."""
        return Program(self.path, folder)
