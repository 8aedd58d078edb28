# shellcheck shell=bash disable=SC2034
# SPDX-FileCopyrightText: Quoin contributors
# SPDX-License-Identifier: GPL-3.0-or-later
# Sourced by app/start and tests/run: the Debian packages that building needs, and how to get the missing ones.

quoin_packages=(
  g++ cmake ninja-build ccache git
  libcgal-dev libeigen3-dev libtbb-dev libpolyclipping-dev lib3mf-dev zlib1g-dev
  libfmt-dev nlohmann-json3-dev libssl-dev libcli11-dev catch2
  libvtk9-dev libopenmpi-dev qt6-base-dev libgl-dev libegl-dev libgl1-mesa-dri libegl-mesa0 fonts-dejavu-core
)

# say WORDS...: a line about what is being done, on standard error, so that results stay clean.
say() { printf '==> %s\n' "$*" >&2; }

# need PACKAGES...: installs those that are missing; says which. Quick when there are none.
need() {
  local missing=() package
  for package in "$@"; do
    [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null || true)" = installed ] || missing+=("$package")
  done
  [ ${#missing[@]} -gt 0 ] || return 0
  if ! command -v apt-get >/dev/null; then
    say "this is no Debian system; install by hand what these Debian packages hold: ${missing[*]}"
    return 1
  fi
  local root=()
  if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null || { say "run this as root, or install sudo; missing: ${missing[*]}"; return 1; }
    root=(sudo)
  fi
  say "installing Debian packages: ${missing[*]}"
  "${root[@]}" apt-get update -q
  "${root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends "${missing[@]}"
}

# build_jobs: as many compilers at once as there are processors and 2 GB of free memory for each.
build_jobs() {
  local processors memory_gb
  processors=$(nproc)
  memory_gb=$(awk '/^MemAvailable:/ {print int($2 / 2000000)}' /proc/meminfo)
  [ "$memory_gb" -ge 1 ] || memory_gb=1
  echo $((processors < memory_gb ? processors : memory_gb))
}

# build PRESET TARGETS...: configures build/PRESET once and builds; all targets when none are named.
build() {
  local preset=$1
  shift
  if [ ! -f "build/$preset/build.ninja" ]; then
    say "configuring build/$preset"
    cmake --preset "$preset"
  fi
  say "building ${*:-everything} in build/$preset"
  cmake --build "build/$preset" --parallel "$(build_jobs)" ${1:+--target "$@"}
}
