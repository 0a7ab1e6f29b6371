import { describe, expect, it } from 'vitest';

import { batch, larder } from '../../tests/fixtures';
import { befallenBatch, befallenPlace, metEntry, spanFor } from './trouble';

describe('what to do when something goes wrong', () => {
  const [boil, mould] = batch.troubles;
  it('goes by the time that is said', () => {
    expect(spanFor(boil!, 119)?.outcomes).toEqual(['process_again']);
    expect(spanFor(boil!, 120)?.outcomes).toEqual(['chill']);
    expect(spanFor(boil!, 99999)?.outcomes).toEqual(['discard']);
  });
  it('knows nothing where nobody knows the time', () => {
    expect(spanFor(boil!, null)).toBeNull();
    expect(spanFor(boil!, -1)).toBeNull();
  });
  it('asks for no time where it does not matter', () => {
    expect(spanFor(mould!, null)?.outcomes).toEqual(['discard']);
  });
});

describe('writing it down', () => {
  const [boil, mould] = batch.troubles;
  const packed = befallenBatch({ ...batch, packed_parcel: 'p1' });
  it('concerns the load in the canner while nothing is packed', () => {
    expect(metEntry(befallenBatch(batch), boil!, 'process_again', 5, null)).toEqual({
      fault: 'boil_stopped',
      outcome: 'process_again',
      batch: 'b1',
      stage: 'process',
      parcels: [],
      elapsed_min: 5,
    });
  });
  it('concerns as many packs as are named, and all of them where none are', () => {
    expect(metEntry(packed, mould!, 'discard', null, 2)).toMatchObject({ parcels: ['p1'], packs: 2, stage: '' });
    expect(metEntry(packed, mould!, 'discard', null, null)).toMatchObject({ parcels: [], stage: '' });
    expect(metEntry(packed, mould!, 'discard', null, 0)).not.toHaveProperty('packs');
  });
  it('concerns everything that lies in a freezer', () => {
    const freezer = larder.shelves[1]!;
    expect(metEntry(befallenPlace(freezer), freezer.troubles[0]!, 'discard', 300, null)).toEqual({
      fault: 'freezer_warm',
      outcome: 'discard',
      place: 'freezer',
      parcels: ['9p2', 'tomatoes-whole'],
      elapsed_min: 300,
    });
  });
});
