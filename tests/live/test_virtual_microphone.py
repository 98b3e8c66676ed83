"""With a virtual microphone: what is played into a null sink of PulseAudio is heard again.

Needs the packages libportaudio2, libasound2-plugins, pulseaudio and pulseaudio-utils of Debian.
"""

import shutil
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from dictating import listening, noise

from jobnotes.desk import Desk, open_desk
from jobnotes.errors import MicrophoneError
from jobnotes.intake.audio import decode
from jobnotes.live.microphone import Microphone
from jobnotes.settings import Settings

_NEEDED = ("pulseaudio", "pactl", "pacat")
_MODULES = (
    "module-null-sink sink_name=bench rate=16000 channels=1",
    "module-native-protocol-unix auth-anonymous=1",
)
_ALSA = "pcm.!default { type pulse }\nctl.!default { type pulse }\n"


def missing() -> str:
    """Say what of the virtual microphone is not on this computer."""
    programs = [name for name in _NEEDED if not shutil.which(name)]
    plugin = list(Path("/usr/lib").rglob("libasound_module_pcm_pulse.so"))
    try:
        import sounddevice  # noqa: F401
    except OSError:
        programs.append("PortAudio")
    return ", ".join(programs + ["ALSA's plugin for PulseAudio"] * (not plugin))


pytestmark = pytest.mark.skipif(bool(missing()), reason=f"There is no {missing()} here.")


@pytest.fixture
def server(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[subprocess.Popen[bytes]]:
    """A sound server of our own, whose one microphone hears what is played."""
    home = tmp_path / "home"
    home.mkdir(mode=0o700)
    (home / ".asoundrc").write_text(_ALSA)
    for name in ("HOME", "XDG_RUNTIME_DIR", "XDG_CONFIG_HOME", "PULSE_RUNTIME_PATH"):
        monkeypatch.setenv(name, str(home))
    command = ["pulseaudio", "-n", "--exit-idle-time=-1", "--daemonize=no"]
    for module in _MODULES:
        command += ["-L", module]
    with subprocess.Popen(command, stderr=subprocess.DEVNULL) as child:
        while subprocess.run(["pactl", "info"], capture_output=True).returncode:
            assert child.poll() is None
            time.sleep(0.1)
        yield child
        child.terminate()


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return open_desk(Settings(data_folder=tmp_path / "shop"))


def played(path: Path) -> subprocess.Popen[bytes]:
    command = ["pacat", "--rate=16000", "--channels=1", "--format=s16le", "--device=bench"]
    return subprocess.Popen([*command, str(path)])


def dictated(desk: Desk, job: str) -> np.ndarray:
    (recording,) = desk.load(job).recordings
    return decode(desk.audio_path(recording))


def test_what_is_played_into_the_microphone_is_in_the_recording(server, desk, tmp_path):
    job = desk.new().id
    sound = noise(tmp_path / "spoken.wav", 2)
    (tmp_path / "spoken.raw").write_bytes(sound.tobytes())
    child = listening(desk.settings.data_folder, job, "--for", 6)
    assert played(tmp_path / "spoken.raw").wait() == 0
    child.communicate()
    heard, wanted = dictated(desk, job), sound / 32768
    alike = np.correlate(heard, wanted[8000:16000], "valid")
    at = int(alike.argmax())
    piece = heard[at : at + 8000]
    assert np.corrcoef(piece, wanted[8000:16000])[0, 1] > 0.9


def test_a_microphone_that_goes_away_is_told_and_what_it_heard_is_kept(server, desk):
    job = desk.new().id
    child = listening(desk.settings.data_folder, job)
    time.sleep(2)
    server.kill()
    _, told = child.communicate()
    assert "no sound any more" in told
    assert "Traceback" not in told
    assert dictated(desk, job).size > 16000
    assert desk.load(job).recordings[0].flags[0].code == "dictation-broken-off"


def test_a_microphone_of_an_unknown_name_is_an_error_of_ours(server):
    with pytest.raises(MicrophoneError, match="--microphone"):
        next(Microphone("nothing of this name").blocks())
