#!/usr/bin/env bash
# Builds the C libraries and installs them: install.sh PREFIX
#
#   PREFIX/include/dividing.h, dividing.hpp
#   PREFIX/lib/libdividing.a, libdividing.so and its versions
#   PREFIX/lib/pkgconfig/dividing.pc
#   PREFIX/lib/cmake/dividing/dividing-config.cmake
#
# DESTDIR, if set, is put before PREFIX where files are copied, for packagers.
# Linux only.
set -euo pipefail

if [ $# -ne 1 ]; then
    echo "install.sh PREFIX" >&2
    exit 2
fi
if [ "$(uname -s)" != Linux ]; then
    echo "install.sh knows the libraries of Linux only; copy those in target/release by hand" >&2
    exit 2
fi
here=$(cd "$(dirname "$0")" && pwd)
mkdir -p "${DESTDIR:-}$1"
root=$(cd "${DESTDIR:-}$1" && pwd)
prefix=${root#"${DESTDIR:-}"}

cd "$here/.."
cargo build --quiet --release -p dividing-ffi
built=${CARGO_TARGET_DIR:-target}/release
version=$(cargo pkgid -p dividing-ffi | sed 's/.*[#@]//')
soversion=${version%.*}

fill() {
    sed -e "s|@PREFIX@|$prefix|g" -e "s|@VERSION@|$version|g" -e "s|@SOVERSION@|$soversion|g" \
        "dividing-ffi/$1" > "$2"
    chmod 644 "$2"
}

mkdir -p "$root/include" "$root/lib/pkgconfig" "$root/lib/cmake/dividing"
install -m 644 dividing-ffi/include/dividing.h dividing-ffi/include/dividing.hpp "$root/include"
install -m 644 "$built/libdividing.a" "$root/lib/libdividing.a"
install -m 755 "$built/libdividing.so" "$root/lib/libdividing.so.$version"
ln -sf "libdividing.so.$version" "$root/lib/libdividing.so.$soversion"
ln -sf "libdividing.so.$soversion" "$root/lib/libdividing.so"
fill dividing.pc.in "$root/lib/pkgconfig/dividing.pc"
fill cmake/dividing-config.cmake.in "$root/lib/cmake/dividing/dividing-config.cmake"
fill cmake/dividing-config-version.cmake.in \
    "$root/lib/cmake/dividing/dividing-config-version.cmake"
echo "dividing $version is installed in $prefix"
