"""Workshop noise and room, made from arithmetic: no recorded sound is used."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Sound = NDArray[np.float64]
RATE = 16_000


def rms(sound: Sound) -> float:
    """Return the root mean square of a sound."""
    return float(np.sqrt(np.mean(sound**2)))


def band(sound: Sound, low_hz: float, high_hz: float) -> Sound:
    """Keep what lies between two frequencies, with soft edges of a fifth of an octave or so."""
    spectrum = np.fft.rfft(sound)
    at = np.fft.rfftfreq(sound.size, 1 / RATE) + 1e-9
    keep = 1 / np.sqrt(1 + (low_hz / at) ** 6) / np.sqrt(1 + (at / high_hz) ** 6)
    return np.fft.irfft(spectrum * keep, sound.size)


def ambience(rng: np.random.Generator, size: int) -> Sound:
    """Return the murmur of a room with an open door, falling 5 dB an octave, at level 1."""
    spectrum = np.fft.rfft(rng.standard_normal(size))
    at = np.fft.rfftfreq(size, 1 / RATE)
    murmur = np.fft.irfft(spectrum / np.maximum(at, 60.0) ** 0.85, size)
    return murmur / rms(murmur)


def compressor(rng: np.random.Generator, size: int) -> Sound:
    """Return a piston compressor on the far wall: mains hum, pump strokes and air rush, level 1."""
    t = np.arange(size) / RATE
    hum = sum(np.sin(2 * np.pi * 60 * n * t + n) / n for n in (1, 2, 3, 4, 6))
    strokes = (0.6 + 0.4 * np.sin(2 * np.pi * 14.2 * t)) ** 3
    rush = band(rng.standard_normal(size), 150, 1800) * strokes
    sound = 0.5 * hum + 2.0 * rush
    return sound / rms(sound)


def idling_engine(rng: np.random.Generator, size: int, rpm: float = 1450.0) -> Sound:
    """Return a single-cylinder four-stroke idling outside: thumps through a wall, level 1."""
    sound = np.zeros(size + RATE)
    at = 0.0
    thump = np.exp(-np.arange(RATE // 12) / (RATE * 0.016))
    while at < size:
        hit = thump * rng.standard_normal(thump.size) * rng.uniform(0.7, 1.2)
        sound[int(at) : int(at) + thump.size] += hit
        at += RATE * 120 / rpm * rng.uniform(0.96, 1.05)
    muffled = band(sound[:size], 45, 420)
    return muffled / rms(muffled)


def wrench_burst(rng: np.random.Generator) -> Sound:
    """Return one burst of an impact wrench across the shop, about a second, peak 1."""
    size = int(RATE * rng.uniform(0.7, 1.3))
    sound = 0.15 * band(rng.standard_normal(size), 300, 2500)
    blow = np.exp(-np.arange(RATE // 25) / (RATE * 0.006))
    for start in range(0, size - blow.size, RATE // 21):
        sound[start : start + blow.size] += blow * rng.standard_normal(blow.size)
    ringing = band(sound, 700, 5200)
    return np.asarray(ringing / np.max(np.abs(ringing)))


def clink(rng: np.random.Generator) -> Sound:
    """Return one hand tool put down on steel, half a second, peak 1."""
    t = np.arange(RATE // 2) / RATE
    tones = rng.uniform(1800, 6200, 6)
    decays = rng.uniform(18, 70, 6)
    sound = sum(
        np.sin(2 * np.pi * f * t) * np.exp(-d * t) for f, d in zip(tones, decays, strict=True)
    )
    return np.asarray(sound / np.max(np.abs(sound)))


def in_room(rng: np.random.Generator, speech: Sound) -> Sound:
    """Add the room: five early reflections and a tail that dies away 60 dB in 0.4 s."""
    t = np.arange(int(0.4 * RATE)) / RATE
    echo = 0.012 * rng.standard_normal(t.size) * 10 ** (-3 * t / 0.4)
    for delay_s, gain in ((0.0, 1.0), (0.007, 0.22), (0.013, 0.16), (0.019, 0.12), (0.031, 0.09)):
        echo[int(delay_s * RATE)] += gain
    size = speech.size + echo.size
    wet = np.fft.irfft(np.fft.rfft(speech, size) * np.fft.rfft(echo, size), size)
    return wet[: speech.size]


def _fades(size: int, start_s: float, stop_s: float, over_s: float = 1.2) -> Sound:
    t = np.arange(size) / RATE
    return np.clip((t - start_s) / over_s, 0, 1) * np.clip((stop_s - t) / over_s, 0, 1)


def _strike(bed: Sound, hit: Sound, at: int, gain: float) -> None:
    stop = min(at + hit.size, bed.size)
    bed[at:stop] += gain * hit[: stop - at]


def workshop(rng: np.random.Generator, size: int, plan: dict[str, Any]) -> Sound:
    """Return the noise of one recording, its steady part at level about 1, as `plan` asks.

    `plan` holds `compressor` ([start, stop] in seconds, or empty), `engine` (idles outside),
    `wrench` (starts of bursts in seconds) and `clinks` (how many).
    """
    bed = 0.7 * ambience(rng, size)
    if plan["engine"]:
        bed += 0.8 * idling_engine(rng, size)
    if plan["compressor"]:
        bed += 0.9 * compressor(rng, size) * _fades(size, *plan["compressor"])
    for start_s in plan["wrench"]:
        _strike(bed, wrench_burst(rng), int(start_s * RATE), 6.0)
    for at in rng.integers(0, size - RATE, plan["clinks"]):
        _strike(bed, clink(rng), int(at), rng.uniform(3.0, 8.0))
    return bed
