"""Random streams: the generator is Philox as published, the keys are as described, the words never change."""

from itertools import product

import numpy as np
import pytest
from scipy.stats import kstest

from service.statistics.random_streams import BELL_SEED, Purpose, Stream, uniform, word_orders

MASK = 2**64 - 1
FROZEN = [
    (BELL_SEED, Purpose.BELL_SHAPED, 8, 1, 0, (0xB2C50CFB94391276, 0xDC03811A2830BAEA, 0x4335E8F0F981A331)),
    (BELL_SEED, Purpose.BELL_SHAPED, 8, 1, 1, (0xACFC92E98A965C43, 0x58E06B28D5CC6D36, 0x0C11211E9743BCF4)),
    (1, Purpose.SHUFFLES, 8, 1, 0, (0x914B49847FCCB078, 0xD7096B250FD5398F, 0xF983E87357AC7BCA)),
    (1, Purpose.SHUFFLES, 3, 6, 0, (0x228B73B39CCF2D12, 0x692F81C282E7467D, 0xB7C0363B7A67A2FE)),
    (1, Purpose.BOOTSTRAP_ROUNDS, 8, 6, 0, (0x53F2600944F93D81, 0x888B1639521837B7, 0x7A466561518398A1)),
    (1, Purpose.BOOTSTRAP_CHANNELS, 8, 24, 0, (0x4E439A475B02C9A1, 0x87E2B397E44B5910, 0x155433BC7247B6E6)),
    (7, Purpose.ROUNDS_NEEDED, 4, 9, 0, (0xADF93F017E22FDFA, 0x88162320641B1178, 0xD0B125E11C30F89C)),
    (2**63, Purpose.SIGN_FLIPS, 2, 60, 0, (0xFAEC48BD8B559D1C, 0xF481F9B5C83F2129, 0x237029FA11A82BEA)),
    (1, Purpose.RECEPTION, 3, 2, 0, (0x899C1FC706A62DEA, 0x590A4BDCC335F04C, 0x8A9DF45ADF06E82B)),
    (1, Purpose.RUN_ORDER, 6, 1, 0, (0x57356E275F62592A, 0x61129DD635CA2F2F, 0x0AC27DC7BB8FBFF7)),
    (1, Purpose.POWER, 6, 5, 0, (0xC9EB1717A0D7D000, 0x1CF0F8403FD5A382, 0x1B58055382029B92)),
]


def philox(counter: list[int], key: list[int]) -> list[int]:
    """Four words of Philox 4x64 with ten rounds, written from Salmon, Moraes, Dror and Shaw (2011)."""
    c, k = counter, key
    for _ in range(10):
        first, second = 0xD2E7470EE14C6C93 * c[0], 0xCA5A826395121157 * c[2]
        c = [(second >> 64) ^ c[1] ^ k[0], second & MASK, (first >> 64) ^ c[3] ^ k[1], first & MASK]
        k = [(k[0] + 0x9E3779B97F4A7C15) & MASK, (k[1] + 0xBB67AE8584CAA73B) & MASK]
    return c


def stream(seed: int, purpose: Purpose, elements: int, number: int, *, pattern: int = 0) -> Stream:
    return Stream(seed, purpose, elements=elements, round_number=number, pattern=pattern)


@pytest.mark.parametrize(
    ("counter", "key", "published"),
    [
        (0, 0, [0x16554D9ECA36314C, 0xDB20FE9D672D0FDC, 0xD7E772CEE186176B, 0x7E68B68AEC7BA23B]),
        (MASK, MASK, [0x87B092C3013FE90B, 0x438C3C67BE8D0224, 0x9CC7D7C69CD777B6, 0xA09CAEBF594F0BA0]),
    ],
)
def test_the_plain_philox_meets_its_authors_known_answers(counter, key, published):
    """Known-answer vectors of the authors' distribution (kat_vectors, philox4x64 10); from memory."""
    assert philox([counter] * 4, [key] * 2) == published


@pytest.mark.parametrize(
    ("seed", "published"),
    [
        (0xDEADBEAF, {0: 0xEDC95200E2BD66A5, 1: 0x581D4E43B7682352, 2: 0x4BE7278F5E373EAB}),
        (0xDEADBEAF, {3: 0xEE47F17991A9E7EA, 900: 0x6FD1735EACD81266, 999: 0x1F83A32D4ADFD2ED}),
        (0, {0: 0x0399E5B222B82FA9, 1: 0x41FD08C1F00F3BC5, 2: 0x78B8824162EE4D04, 999: 0x57C05F47FF62380D}),
    ],
)
def test_a_stream_gives_the_words_that_numpy_publishes_for_its_key(seed, published):
    """numpy/random/tests/data/philox-testset-1.csv and -2.csv, the words numpy promises to keep."""
    first, second = np.random.SeedSequence(seed).generate_state(2, np.uint64).tolist()
    keyed = Stream(first, second >> 48, elements=0, round_number=second & (2**48 - 1))
    found = keyed.words(250, 4).ravel()
    assert {place: int(found[place]) for place in published} == published


@pytest.mark.parametrize("vector", FROZEN)
def test_frozen_words(vector):
    *which, pattern, expected = vector
    assert tuple(stream(*which, pattern=pattern).words(1, 3)[0].tolist()) == expected


@pytest.mark.parametrize("vector", FROZEN)
def test_the_key_is_seed_then_purpose_pattern_elements_and_round(vector):
    seed, purpose, elements, number, pattern, _ = vector
    key = [seed, purpose * 2**48 + pattern * 2**40 + elements * 2**32 + number]
    expected = philox([1, 0, 0, 0], key) + philox([2, 0, 0, 0], key)
    assert stream(seed, purpose, elements, number, pattern=pattern).words(2, 4).ravel().tolist() == expected


def test_no_two_streams_of_a_seed_share_their_words():
    streams = product(Purpose, (2, 3, 64), (1, 2, 400), (0, 1))
    first = [
        int(stream(1, purpose, elements, number, pattern=pattern).words(1, 1)[0, 0])
        for purpose, elements, number, pattern in streams
    ]
    assert len(set(first)) == len(first) == len(Purpose) * 3 * 3 * 2


def test_a_longer_trial_repeats_the_draws_of_its_first_rounds():
    def trial(rounds: int) -> np.ndarray:
        return np.stack([stream(1, Purpose.SHUFFLES, 4, r + 1).words(50, 4) for r in range(rounds)])

    assert (trial(9)[:6] == trial(6)).all()
    assert (trial(9)[6] != trial(6)[5]).all()


def test_fewer_draws_are_the_first_of_more_and_batches_join_without_a_seam():
    whole = stream(1, Purpose.SHUFFLES, 5, 2).words(40, 5)
    same = stream(1, Purpose.SHUFFLES, 5, 2)
    assert (np.concatenate([same.words(7, 5), same.words(33, 5)]) == whole).all()
    assert (stream(1, Purpose.SHUFFLES, 5, 2).words(7, 5) == whole[:7]).all()


@pytest.mark.parametrize("elements", [1, 2, 3, 8, 17, 64])
def test_a_permutation_is_the_stable_order_of_the_words(elements):
    drawn = stream(1, Purpose.SHUFFLES, elements, 1).words(2_000, elements)
    assert (word_orders(drawn) == np.argsort(drawn, axis=1, kind="stable")).all()


def test_a_uniform_is_the_upper_53_bits_and_a_half():
    given = np.array([0, 2**11 - 1, 2**11, 2**63], dtype=np.uint64)
    assert uniform(given).tolist() == [2.0**-54, 2.0**-54, 1.5 * 2.0**-53, 0.5]


def test_frozen_uniforms_and_normals():
    exact = [0.19650104128994533, 0.17561363440443517, 0.20737446948133192]
    assert stream(1, Purpose.SHUFFLES, 3, 1).uniforms(1, 3)[0].tolist() == exact
    normal = [-0.8541857408536727, -0.9322114315572131, -0.8155650616283688]
    assert stream(1, Purpose.SHUFFLES, 3, 1).normals(1, 3)[0] == pytest.approx(normal, rel=1e-13)


def test_uniforms_and_normals_follow_their_laws():
    assert kstest(stream(3, Purpose.SHUFFLES, 4, 1).uniforms(5_000, 4).ravel(), "uniform").pvalue > 0.001
    assert kstest(stream(3, Purpose.SHUFFLES, 4, 1).normals(5_000, 4).ravel(), "norm").pvalue > 0.001


@pytest.mark.parametrize("seed", [-1, 2**64])
def test_a_seed_that_is_no_64_bit_word_is_refused(seed):
    with pytest.raises(OverflowError):
        stream(seed, Purpose.SHUFFLES, 3, 1)
