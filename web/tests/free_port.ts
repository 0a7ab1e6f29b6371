import { createServer } from 'node:net';

// Below the ports that systems give to connections that go out (Linux: from 32768), so that none of those takes a port
// while a program that is to come back on it is away.
const kLowest = 20_000;
const kHighest = 32_000;

/** A port that nothing listens on, here or towards the home network. Runs on one machine hardly ever meet on one. */
export async function freePort(): Promise<number> {
  for (;;) {
    const port = kLowest + Math.floor(Math.random() * (kHighest - kLowest));
    const free = await new Promise<boolean>((resolve) => {
      const server = createServer();
      server.once('error', () => resolve(false));
      server.listen(port, () => server.close(() => resolve(true)));
    });
    if (free) return port;
  }
}
