"""A household of its own for each story, through the command line. STILLROOM_BINARY names the program."""

import json
import os
import pathlib
import socket
import subprocess
import tempfile
import unittest


def free_port():
    """A port that nothing listens on: stories, and other runs on the machine, do not meet."""
    with socket.create_server(("", 0)) as server:
        return server.getsockname()[1]


class Household(unittest.TestCase):
    now = "2026-09-14T12:00:00Z"
    answers = [("altitude", "2,350 ft"), ("hands", "Ida 41, Jon 43, Mia 15"), ("canners", "boiling water, weighted"),
               ("jars", "40 quart, 40 pint"), ("freezer", "200 l")]

    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.file = str(pathlib.Path(folder.name) / "house.stillroom")
        for question, answer in self.answers:
            self.done("start", question, answer)

    def run_it(self, *words, at=None):
        return subprocess.run([os.environ["STILLROOM_BINARY"], "--household", self.file, "--at", at or self.now, *words],
                              capture_output=True, text=True, check=False, timeout=300)

    def said(self, *words, at=None):
        """What it prints, when it does what is asked."""
        run = self.run_it(*words, at=at)
        self.assertEqual(run.returncode, 0, f"{words}: {run.stdout}{run.stderr}")
        return run.stdout

    def done(self, *words, at=None):
        return json.loads(self.said("--json", *words, at=at))

    def refused(self, *words, at=None):
        run = self.run_it("--json", *words, at=at)
        self.assertNotEqual(run.returncode, 0, run.stdout)
        answer = json.loads(run.stdout)
        self.assertFalse(answer["ok"])
        self.assertTrue(answer["message"])
        return answer

    def today(self, at=None):
        return self.done("today", "--seconds", "0.5", at=at)

    def bring_in(self, line):
        return self.done("bring-in", line)["id"]
