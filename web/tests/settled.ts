async function answer(address: string, key: string, words: string): Promise<void> {
  const response = await fetch(`${address}/api/v1/start`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ key, answer: words }),
  });
  if (!response.ok) throw new Error(`${key}: ${await response.text()}`);
}

/** A household that can put something by: a kitchen at 1,250 ft, one adult, a canner, jars, some freezer. */
export async function settled(address: string): Promise<void> {
  await answer(address, 'altitude', '1250 ft');
  await answer(address, 'hands', 'Mary 41 pressure, Tom 15');
  await answer(address, 'canners', 'boiling water 1, burners 4');
  await answer(address, 'jars', '48 quart, 48 pint, 96 lids');
  await answer(address, 'freezer', '5 cu ft');
  await answer(address, 'waiting', '');
}
