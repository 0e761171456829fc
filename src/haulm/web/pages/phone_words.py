"""The words of the phone's page, which its script puts where they belong."""

from collections.abc import Mapping

from haulm.web.words import noted

WORDS: Mapping[str, str] = {
    "write": noted("Write"),
    "week": noted("This week"),
    "here": noted("On this phone"),
    "again": noted("Again"),
    "back": noted("Back"),
    "done": noted("Done"),
    "of_what": noted("Of what"),
    "which_food": noted("Which food"),
    "how_much": noted("How much"),
    "when": noted("When"),
    "today": noted("Today"),
    "yesterday": noted("Yesterday"),
    "other_day": noted("Another day"),
    "more": noted("More to say"),
    "all": noted("All %(number)s"),
    "find": noted("Find"),
    "whole_bed": noted("whole bed"),
    "rub_out": noted("Rub out the last figure"),
    "photo": noted("Photo"),
    "photo_off": noted("Leave the photo out"),
    "photo_there": noted("A photo goes with it. Where it was taken is not kept."),
    "photo_bad": noted("That is no picture this phone can read."),
    "missing": noted("Say of what."),
    "missing_field": noted("%(field)s: choose one."),
    "missing_amount": noted("Say how much."),
    "written": noted("Written down: %(entry)s"),
    "undo": noted("Undo"),
    "undone": noted("Taken back: %(entry)s"),
    "not_kept": noted("This phone could not keep it: %(reason)s. Nothing was written down."),
    "no_store": noted(
        "This browser keeps nothing (a private window?): nothing can be written down here."
    ),
    "all_sent": noted("The laptop has everything."),
    "sending": noted("Sending …"),
    "waiting_one": noted("1 entry waits on this phone."),
    "waiting": noted("%(number)s entries wait on this phone."),
    "not_reached": noted("The laptop is out of reach."),
    "shut_out": noted(
        "The laptop no longer knows this phone. Open its new address; what waits here stays."
    ),
    "no_garden": noted("There is no garden on the laptop yet."),
    "last_heard": noted("As the laptop told it on %(day)s."),
    "never_heard": noted("This phone has not heard from the laptop yet."),
    "clock": noted(
        "This phone's clock is %(length)s %(way)s of the laptop's. Look at the day of each entry."
    ),
    "clock_fast": noted("ahead"),
    "clock_slow": noted("behind"),
    "refused": noted("The laptop did not take it"),
    "mend": noted("Mend"),
    "send_again": noted("Send again"),
    "throw_away": noted("Throw away"),
    "throw_sure": noted("Throw this entry away? It is nowhere else."),
    "put_right": noted("Put right"),
    "take_back": noted("Take back"),
    "sent": noted("Sent"),
    "waits": noted("Waits"),
    "nothing_here": noted("Nothing is kept on this phone."),
    "no_jobs": noted("No jobs are known."),
    "next_week": noted("Next week"),
    "last_day": noted("until %(day)s"),
    "may_wait": noted("may wait"),
    "job_done": noted("done"),
    "minutes": noted("%(number)s min"),
    "care": noted("Take care"),
    "seen": noted("Put away"),
}
