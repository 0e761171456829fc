"""Steps that bring an older notebook up to date, run by haulm itself when it opens one."""
