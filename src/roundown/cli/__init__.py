"""The command line. One module a command; heavy parts are imported inside it, so that --help stays light."""
