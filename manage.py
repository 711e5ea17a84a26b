#!/usr/bin/env python3
"""Run Drumhead's commands: `python3 manage.py help` lists them."""

import os
import sys


def main():
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "league.settings")
    from django.core.management import execute_from_command_line  # noqa: PLC0415 - settings must be named first

    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
