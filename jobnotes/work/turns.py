"""One worker: it takes tasks one after another until it is to stop."""

from collections.abc import Callable
from threading import Event

from jobnotes.desk import Desk
from jobnotes.errors import LostTaskError
from jobnotes.retention import Daily
from jobnotes.store.lease import LOOK_S, Watch, new_owner
from jobnotes.store.tasks import claim, unfinished

Tell = Callable[[str], None]


def take_turns(desk: Desk, stop: Event, tell: Tell, *, until_done: bool = False) -> None:
    """Do tasks until `stop` is set, the one in hand to its end; or until none is left anywhere.

    Meanwhile it watches over other workers, so that the work of one that died is taken up.
    """
    owner, watch, old = new_owner(), Watch(desk.store), Daily(desk)
    while not stop.is_set():
        old.erase()
        task = claim(desk.store, owner)
        if task:
            try:
                desk.work_on(task)
            except LostTaskError as error:
                tell(str(error))
        elif until_done and not unfinished(desk.store):
            return
        else:
            watch.look()
            stop.wait(LOOK_S)
