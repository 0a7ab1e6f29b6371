"""What a kitchen has taught it, and a butchering day, by command line. STILLROOM_BINARY names the program."""

import unittest

from household import Household


class Taught(Household):
    def a_slow_batch(self, day):
        """Green beans to the freezer, snapped in three quarters of an hour, put by as the card has it."""
        at = lambda clock: f"2026-09-{day}T{clock}:00Z"
        lot = self.done("bring-in", "9 lb green beans, firm, in the fridge", at=at("14:00"))["id"]
        batch = self.done("batch", "start", "bean_snap/frozen", lot, at=at("14:05"))["id"]
        steps = self.done("batch", "show", batch, at=at("14:05"))["steps"]
        clock = 14 * 60 + 10
        for step in steps:
            said = lambda m: at(f"{m // 60:02}:{m % 60:02}")
            self.done("batch", "begin", batch, step["stage"], at=said(clock))
            clock += 45 if step["stage"] == "snap_beans" else 20
            self.done("batch", "finish", batch, step["stage"], at=said(clock))
        self.done("batch", "pack", batch, "6", at=said(clock))

    def test_learned(self):
        """Own minutes stand beside the published ones, on their own and beside what is known of the crop."""
        at = "2026-09-20T12:00:00Z"
        self.assertIn("Nothing yet", self.said("learned", at=at))
        for day in (15, 16, 17):
            self.a_slow_batch(day)
        lines = self.done("learned", at=at)["lines"]
        snapped = next(line for line in lines if line["stage"] == "snap_beans")
        self.assertEqual(snapped["batches"], 3)
        self.assertTrue(snapped["used"])
        self.assertGreater(snapped["value"], snapped["published_value"])
        self.assertLess(snapped["low"], snapped["value"])
        text = self.said("learned", "green beans", at=at)
        self.assertIn("yours so far", text)
        self.assertIn("8 in 10 between", text)
        self.assertEqual(self.done("learned", "pears", at=at)["lines"], [])
        self.assertIn("What your kitchen has taught it", self.said("about", "green beans", at=at))
        self.assertEqual(len(self.done("about", "green beans", at=at)["learned"]), len(lines))
        self.assertEqual(self.refused("learned", "widgets", at=at)["ok"], False)

    def test_butchering(self):
        """Twenty birds of count and weight: clocks, packs, broth, freezing; then lots, parted to bones and packs."""
        said = self.said("butcher", "20 ducks, 4 lb 8 oz each", "--whole", "4", "--look")
        for words in ("90 lb dressed", "40 °F inside by", "Packs", "48 to 64 quarts", "Your freezer takes"):
            self.assertIn(words, said)
        lot = self.done("butcher", "20 ducks, 4 lb 8 oz each", "--whole", "4")["id"]
        strips = self.today()["strips"]
        self.assertEqual(len(strips), 2)
        self.assertTrue(all(strip["hazard_by"] for strip in strips))
        batch = self.done("batch", "start", "duck/part_out", lot)["id"]
        self.done("batch", "pack", batch, "24", at="2026-09-15T04:00:00Z")
        forms = {strip["form"] for strip in self.today(at="2026-09-15T04:00:00Z")["strips"]}
        self.assertIn("bones", forms)
        self.refused("butcher", "some ducks")
        self.refused("butcher", "2 ducks, 4 lb each", "--whole", "3")


if __name__ == "__main__":
    unittest.main()
