import jobnotes.errors as errors
from jobnotes.errors import InputError, JobnotesError


def classes() -> list[type[JobnotesError]]:
    found = [value for value in vars(errors).values() if isinstance(value, type)]
    return [value for value in found if issubclass(value, JobnotesError)]


def test_each_class_owns_its_own_exit_code():
    codes = [one.__dict__.get("exit_code") for one in classes()]
    assert None not in codes
    assert len(codes) == len(set(codes))


def test_no_exit_code_is_that_of_success_or_of_a_mistyped_command():
    # POSIX: 0 is success; the command-line library (click) uses 2 for a usage error
    assert not {0, 2} & {one.exit_code for one in classes()}


def test_exit_codes_leave_room_for_those_of_the_shell():
    # POSIX shells use 126 and above for their own outcomes
    assert max(one.exit_code for one in classes()) < 126


def test_the_message_ends_with_what_to_do_next():
    for one in classes():
        assert str(one("It went wrong.")) == f"It went wrong. {one.remedy}"


def test_a_remedy_of_the_moment_takes_the_place_of_the_general_one():
    assert str(InputError("Too long.", "Cut it.")) == "Too long. Cut it."
