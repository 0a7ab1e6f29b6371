import { describe, expect, it } from 'vitest';

import { batch } from '../../tests/fixtures';
import { spanFor } from './trouble';

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
