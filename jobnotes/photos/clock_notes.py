"""What is known of the camera's clock, told in sentences."""

from jobnotes.record import Job


def clock_notes(job: Job) -> tuple[str, ...]:
    """Say how far the camera's clock was off, and of how many photos the zone is not known."""
    told = []
    if job.camera_ahead_s is not None:
        seconds = round(abs(job.camera_ahead_s))
        side = "ahead of" if job.camera_ahead_s >= 0 else "behind"
        told.append(
            f"By what was said of photos, the camera's clock is {seconds} s {side} the recorder's."
        )
    without = sum(bool(photo.taken_at) and not photo.zone_known for photo in job.photos)
    if without:
        photos = "1 photo" if without == 1 else f"{without} photos"
        told.append(f"The camera did not write the time zone of {photos}.")
    return tuple(told)
