"""The built program, asked as a person would ask it."""

import contextlib
import json
import os
import re
import subprocess
import urllib.request
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

    @contextlib.contextmanager
    def served(self, book):
        """The book served; hands out a function that asks an address, with a body to write."""
        program = subprocess.Popen(
            [self.path, "serve", book, "--listen", "127.0.0.1:0"],
            cwd=self.folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        )
        try:
            line = program.stdout.readline() or program.stderr.readline()
            root = re.search(r"http://[\d.:]+", line)[0]

            def ask(address, method="GET", body=None):
                data = None if body is None else json.dumps(body).encode()
                head = {} if body is None else {"content-type": "application/json"}
                request = urllib.request.Request(root + address, data=data, headers=head, method=method)
                with urllib.request.urlopen(request, timeout=60) as answer:
                    return json.load(answer)

            yield ask
        finally:
            program.terminate()
            program.wait(timeout=20)

    def at(self, folder):
        """The same program in another folder."""
        return Program(self.path, folder)
