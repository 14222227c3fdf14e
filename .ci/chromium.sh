#!/usr/bin/env bash
# Prints the path of a Chromium for the browser tests: the variable CHROMIUM, else Debian's, installed by apt-get where it is absent and
# we are root. Exit code 1, with the reason, where there is none.
set -u
say() { printf '%s\n' "$*" >&2; }

if [ -n "${CHROMIUM:-}" ]; then
  if [ -x "$CHROMIUM" ]; then
    printf '%s\n' "$CHROMIUM"
    exit 0
  fi
  say "CHROMIUM is set to $CHROMIUM, which cannot be run"
  exit 1
fi
found() { command -v /usr/bin/chromium || command -v chromium; }
if ! found >/dev/null; then
  if [ "$(id -u)" -ne 0 ] || ! command -v apt-get >/dev/null; then
    say 'there is no Chromium, and only root can install it with apt-get'
    exit 1
  fi
  say 'installing Chromium'
  export DEBIAN_FRONTEND=noninteractive
  { apt-get update -qq && apt-get install -y -qq --no-install-recommends chromium; } >&2 || {
    say 'apt-get could not install Chromium'
    exit 1
  }
fi
found
