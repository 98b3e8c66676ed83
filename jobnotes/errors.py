"""The error tree: each class owns a stable exit code; each message says what to do next."""

from typing import ClassVar


class JobnotesError(Exception):
    """Base of every error this program raises on purpose; carries what went wrong and a remedy."""

    exit_code: ClassVar[int] = 1
    remedy: ClassVar[str] = "Report this as a defect, with the message above."

    def __init__(self, what: str, remedy: str | None = None) -> None:
        """Say what went wrong, and what to do next where the class's own remedy is too general."""
        super().__init__(what)
        self.what = what
        self.advice = remedy or self.remedy

    def __str__(self) -> str:
        """Join what went wrong and what to do next."""
        return f"{self.what} {self.advice}"


class InputError(JobnotesError):
    """A file that was handed in cannot be used; it was left as it was."""

    exit_code = 3
    remedy = "Check the file, or send it again from the device it came from."


class MissingFileError(InputError):
    """The named file or folder is not there."""

    exit_code = 4
    remedy = "Check the name and the folder."


class EmptyFileError(InputError):
    """The file holds no bytes."""

    exit_code = 5
    remedy = "The copy was cut short: send the file again from the device it came from."


class FormatError(InputError):
    """The file is not of a kind that is taken in, whatever its name says."""

    exit_code = 6
    remedy = "Take WAV, MP3, M4A, OGG, FLAC or WEBM for sound; JPEG, PNG, WebP or HEIC for photos."


class DamagedFileError(InputError):
    """The file is of a known kind but ends early or does not decode."""

    exit_code = 7
    remedy = "The original is kept as it came: send the file again if the device still has it."


class TooLargeError(InputError):
    """The file is larger than what is decoded safely."""

    exit_code = 8
    remedy = "Take the picture again at a usual size, or cut the recording into parts."


class BundleError(InputError):
    """A job's bundle is damaged, was altered, or is none; nothing of it was taken in."""

    exit_code = 9
    remedy = "Ask for the job to be exported and sent again."


class FormVersionError(InputError):
    """A job's file has a form that this version of the program does not know."""

    exit_code = 11
    remedy = "Install the newer version of the program here too; nothing was taken in."


class KnownJobError(InputError):
    """The job of a bundle is here already."""

    exit_code = 12
    remedy = "Open it with `jobnotes show`; nothing was taken in a second time."


class SpeechModelError(JobnotesError):
    """The speech weights are missing, cut short or altered."""

    exit_code = 10
    remedy = "Run `jobnotes weights` to prepare them again."


class StoreError(JobnotesError):
    """The store or the media folder does not hold what it should."""

    exit_code = 20
    remedy = "Run `jobnotes verify`, and restore what it names from the last backup."


class UnknownJobError(StoreError):
    """No job has that number."""

    exit_code = 21
    remedy = "Run `jobnotes list` to see the jobs."


class StaleJobError(StoreError):
    """Somebody else changed the job since it was read."""

    exit_code = 22
    remedy = "Open the job again and repeat the change."


class LostTaskError(StoreError):
    """Another worker took up a piece of work, since this one was not heard of for too long."""

    exit_code = 23
    remedy = "Nothing needs to be done: the other worker finishes it."


class BrokenWorkError(StoreError):
    """The work on a job broke off each time it was tried."""

    exit_code = 24
    remedy = "Look for what ended it (memory, power), then run `jobnotes run` for the job."


class BackupError(StoreError):
    """A backup is not whole, was altered, or cannot be restored here; nothing was changed."""

    exit_code = 25
    remedy = "Take another backup; see `jobnotes verify --backup` for what is wrong with this one."


class OpenFlagsError(JobnotesError):
    """Something on the job still waits for a person, so it must not leave the shop."""

    exit_code = 30
    remedy = "Settle each flag with `jobnotes confirm`, `jobnotes correct` or `jobnotes reject`."


class IncompleteJobError(JobnotesError):
    """A stage of the job did not finish; what came before it is kept."""

    exit_code = 31
    remedy = "See `jobnotes show` for the stage and the reason, then run `jobnotes run` again."


class ReviewError(JobnotesError):
    """A review step does not fit the fact it names."""

    exit_code = 32
    remedy = "Run `jobnotes show` to see the facts and their numbers."


class OutputError(JobnotesError):
    """What was asked for is made, but cannot be written where it was to go."""

    exit_code = 33
    remedy = "Name another place for it, or make room there."


class AlternateTextError(JobnotesError):
    """A picture of the report has no words for those who cannot see it."""

    exit_code = 34
    remedy = "Give the photo a caption, or leave it out of the report."


class SettingsError(JobnotesError):
    """A settings or rule file cannot be used."""

    exit_code = 40
    remedy = "Correct the named line of the file."


class StaleFileError(SettingsError):
    """Somebody else changed a settings file since it was read."""

    exit_code = 41
    remedy = "Look at it again and repeat the change."


class DictationError(JobnotesError):
    """A live dictation cannot begin or has broken off; what was recorded is kept."""

    exit_code = 50
    remedy = "What was recorded is kept and taken in; begin a new dictation for the rest."


class MicrophoneError(DictationError):
    """There is no microphone that gives sound."""

    exit_code = 51
    remedy = "Plug it in again and begin a new dictation; what was recorded is kept."


class BusyError(JobnotesError):
    """Another window does just this, and only one can at a time."""

    exit_code = 52
    remedy = "End that one first, with Ctrl-C in its window."


class AccessError(JobnotesError):
    """Nobody may sign in yet, or what was given does not let anybody in."""

    exit_code = 60
    remedy = "Make an account on this machine with `jobnotes account NAME`."


class NetworkError(JobnotesError):
    """The address asked for cannot be served, or not safely."""

    exit_code = 61
    remedy = "Serve on 127.0.0.1, or name the machine with `--name` so that HTTPS is used."
