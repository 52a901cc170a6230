"""The commands, one file each. They read the call and write reports; the work is the library's."""
