"""Noise of a workshop at a given level under speech, made from arithmetic with fixed seeds."""

from collections.abc import Callable

import numpy as np
from demo_scenes.noise import (
    RATE,
    Sound,
    band,
    clink,
    compressor,
    idling_engine,
    rms,
    wrench_burst,
)

SPEECH_LEVEL = 10 ** (-23 / 20)  # of voiced parts: a phone lying on the bench
VOWELS = ((730, 1090), (270, 2290), (570, 840), (300, 870), (530, 1840))  # Hz, two formants each
CHORDS = ((220, 277, 330), (196, 247, 294), (175, 220, 262))  # Hz


def grinder(rng: np.random.Generator, size: int) -> Sound:
    """Return an angle grinder that bites and lifts: gear whine over broad hiss, level 1."""
    t = np.arange(size) / RATE
    knots = np.arange(0, t[-1] + 2, 0.7)
    load = np.interp(t, knots, rng.uniform(0, 1, knots.size))
    turn = 2 * np.pi * np.cumsum(180 - 25 * load) / RATE
    whine = sum(np.sin(n * turn) / n for n in (1, 2, 7, 8, 14))
    sound = whine + (0.5 + 2 * load) * band(rng.standard_normal(size), 900, 7000)
    return sound / rms(sound)


def radio(rng: np.random.Generator, size: int) -> Sound:
    """Return a radio across the shop: babble of four voices over slow chords, level 1."""
    voices = sum(_babble(rng, size) for _ in range(4))
    music = sum(_chord(size, n, chord) for n, chord in enumerate(CHORDS))
    sound = band(voices / rms(voices) + 0.5 * music / rms(music), 150, 4500)
    return sound / rms(sound)


def _babble(rng: np.random.Generator, size: int) -> Sound:
    """Return syllables without words: a pulse train through changing vowels."""
    sound = np.zeros(size)
    at, pitch = 0, rng.uniform(90, 220)
    while at < size:
        length = int(RATE * rng.uniform(0.1, 0.32))
        syllable = _syllable(rng, length, pitch * rng.uniform(0.85, 1.2))
        stop = min(size, at + length)
        sound[at:stop] += syllable[: stop - at] * rng.uniform(0.4, 1)
        at = stop + int(RATE * rng.choice((0.02, 0.05, 0.4), p=(0.6, 0.3, 0.1)))
    return sound


def _syllable(rng: np.random.Generator, length: int, pitch: float) -> Sound:
    t = np.arange(length) / RATE
    formants = VOWELS[rng.integers(len(VOWELS))]
    tones = np.arange(pitch, 4000, pitch)
    loud = sum(1 / (1 + ((tones - f) / 110) ** 2) for f in (*formants, 2600))
    return (loud[:, None] * np.sin(2 * np.pi * tones[:, None] * t)).sum(0) * np.hanning(length)


def music(rng: np.random.Generator, size: int) -> Sound:
    """Return slow chords with a drum, level 1."""
    sound = sum(_chord(size, n, chord) for n, chord in enumerate(CHORDS))
    for start in range(0, size - RATE // 2, RATE // 2):
        drum = rng.standard_normal(RATE // 8) * np.exp(-np.arange(RATE // 8) / 300)
        sound[start : start + drum.size] += 3 * drum
    return sound / rms(sound)


def hammering(rng: np.random.Generator, size: int) -> Sound:
    """Return blows on steel and bursts of an impact wrench with pauses, level 1."""
    sound = 0.001 * rng.standard_normal(size)
    at = 0
    while at < size - 2 * RATE:
        hit = wrench_burst(rng) if rng.uniform() < 0.3 else clink(rng)
        sound[at : at + hit.size] += hit
        at += int(RATE * rng.uniform(0.3, 2))
    return sound / rms(sound)


def _chord(size: int, nth: int, chord: tuple[int, ...]) -> Sound:
    t = np.arange(size) / RATE
    turn = (np.floor(t / 2) % len(CHORDS)) == nth
    return turn * sum(np.sin(2 * np.pi * n * f * t) / n for f in chord for n in (1, 2, 3))


NOISES: dict[str, Callable[[np.random.Generator, int], Sound]] = {
    "engine": idling_engine,
    "compressor": compressor,
    "grinder": grinder,
    "radio": radio,
}
# Where nobody speaks and no word may be heard.
SOUNDS = {name: make for name, make in NOISES.items() if make is not radio}
SOUNDS |= {"music": music, "hammering": hammering}


def noisy(speech: Sound, kind: str, snr_db: float, seed: int) -> Sound:
    """Put a noise under speech, `snr_db` below the level of its voiced parts."""
    noise = NOISES[kind](np.random.default_rng(seed), speech.size)
    return speech + noise * SPEECH_LEVEL * 10 ** (-snr_db / 20)
