#!/usr/bin/env bash
# Builds what is handed out into a folder: the .NET tool package, one archive a system, and their SHA-256 sums.
#   pipeline/package.sh FOLDER [SYSTEM...]        systems: linux-x64 linux-arm64 osx-arm64 osx-x64 win-x64 (all, where none is named)
set -euo pipefail
[ $# -ge 1 ] || { sed -n '2,3s/^# *//p' "$0" >&2; exit 2; }
mkdir -p "$1"
folder=$(cd "$1" && pwd)
shift
systems=("$@")
[ ${#systems[@]} -gt 0 ] || systems=(linux-x64 linux-arm64 osx-arm64 osx-x64 win-x64)
cd "$(dirname "$0")/.."
program=src/DecayAtlas.Cli
for system in "${systems[@]}"; do
  [ -f "$program/Properties/PublishProfiles/$system.pubxml" ] || { echo "there is no profile for $system in $program/Properties/PublishProfiles" >&2; exit 2; }
done
version=$(dotnet msbuild $program -getProperty:Version)
# files in an archive bear the time of the commit, or a fixed one where there is no repository: the same sources, the same archive
time=@$(git log -1 --format=%ct 2>/dev/null || echo 0)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# the check for browsers goes into the pages, so it is made before the program is built
dotnet publish src/DecayAtlas.Browser --nologo -v q
made=()
dotnet pack $program --nologo -v q -o "$folder"
made+=("DecayAtlas.$version.nupkg")
for system in "${systems[@]}"; do
  name=decayatlas-$version-$system
  dotnet publish $program --nologo -v q -p:PublishProfile="$system" -o "$work/$name"
  find "$work/$name" -type f ! -name 'decayatlas*' -exec chmod 644 {} +
  tar --create --directory "$work" --sort=name --mtime="$time" --owner=0 --group=0 --numeric-owner --format=gnu "$name" | gzip -9 --no-name > "$folder/$name.tar.gz"
  made+=("$name.tar.gz")
  rm -rf "${work:?}/$name"
done
cd "$folder"
sha256sum "${made[@]}" > SHA256SUMS
cat SHA256SUMS
