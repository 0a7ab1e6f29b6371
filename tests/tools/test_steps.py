"""Steps are counted with the tests inside them, failures decide the exit code, and text rules find what they name."""

import pathlib
import subprocess
import tempfile
import unittest

ROOT = pathlib.Path(__file__).resolve().parents[2]


def bash(script, cwd=ROOT):
    return subprocess.run(["bash", "-c", script], cwd=cwd, capture_output=True, text=True, stdin=subprocess.DEVNULL,
                          check=False)


def steps(*commands):
    with tempfile.TemporaryDirectory() as logs:
        body = "\n".join(f"step 's{i}' {command} || true" for i, command in enumerate(commands))
        return bash(f"set -euo pipefail; source tools/steps.sh; logs={logs}\n{body}\nfinish")


class Steps(unittest.TestCase):
    def last_line(self, *commands):
        run = steps(*commands)
        return run.returncode, run.stdout.strip().splitlines()[-1]

    def test_each_step_counts(self):
        self.assertEqual(self.last_line("true", "true"), (0, "2 passed, 0 failed"))

    def test_a_failed_step_fails_the_run_and_the_next_still_runs(self):
        self.assertEqual(self.last_line("false", "true"), (1, "1 passed, 1 failed"))

    def test_ctest_is_counted(self):
        self.assertEqual(self.last_line("echo '100% tests passed, 0 tests failed out of 51'"), (0, "52 passed, 0 failed"))
        self.assertEqual(self.last_line("echo '96% tests passed, 2 tests failed out of 51'; false".join(["bash -c \"", "\""])),
                         (1, "49 passed, 3 failed"))

    def test_page_tests_are_counted(self):
        self.assertEqual(self.last_line("echo '      Tests  12 passed (12)'"), (0, "13 passed, 0 failed"))
        self.assertEqual(self.last_line("echo '      Tests  1 failed | 11 passed (12)'"), (1, "12 passed, 1 failed"))

    def test_browser_tests_are_counted(self):
        self.assertEqual(self.last_line("echo '  9 passed (14.2s)'"), (0, "10 passed, 0 failed"))
        self.assertEqual(self.last_line("printf '  2 failed\\n  9 passed (14.2s)\\n'"), (1, "10 passed, 2 failed"))

    def test_python_tests_are_counted(self):
        self.assertEqual(self.last_line("printf 'Ran 19 tests in 1.2s\\n\\nOK\\n'"), (0, "20 passed, 0 failed"))
        self.assertEqual(self.last_line("printf 'Ran 19 tests in 1s\\n\\nFAILED (failures=2, errors=1)\\n'"),
                         (1, "17 passed, 3 failed"))

    def test_a_failure_shows_the_end_of_its_log(self):
        self.assertIn("    why it broke", steps("bash -c 'echo why it broke; exit 1'").stdout)


class TextRules(unittest.TestCase):
    def found(self, name, line):
        with tempfile.TemporaryDirectory() as folder:
            root = pathlib.Path(folder)
            for path in ("tools", "src", pathlib.Path(name).parent):
                (root / path).mkdir(exist_ok=True, parents=True)
            (root / "tools/check_text.sh").write_text((ROOT / "tools/check_text.sh").read_text())
            (root / name).write_text(line + "\n")
            return bash("git init -q . && bash tools/check_text.sh", root)

    def test_a_clean_tree_passes(self):
        run = self.found("src/a.cpp", "int a = 0;")
        self.assertEqual(run.returncode, 0, run.stdout)

    def test_each_rule_finds_its_line(self):
        for name, line in (("src/a.cpp", "// /" + "root/x"), ("docs.md", "see /" + "work/x"),
                           ("src/b.cpp", "// TO" + "DO later"), ("src/c.cpp", "using" + " namespace std;"),
                           ("tests/d.cpp", "TEST(A, DISABLED" + "_b) {}"), ("lock.json", "registry." + "npmjs"),
                           ("docs/e.md", "the trans" + "cript says")):
            run = self.found(name, line)
            self.assertEqual(run.returncode, 1, line)
            self.assertIn(name, run.stdout)


if __name__ == "__main__":
    unittest.main()
