# Sourced by data/demo and tests/run: the Debian packages, and how the missing ones are installed.
# shellcheck shell=sh disable=SC2034

build_packages='gcc libc6-dev make cmake pkg-config libncurses-dev libsqlite3-dev'
test_packages='check libvterm-dev libproj-dev libgsl-dev sqlite3 librsvg2-bin ninja-build tmux screen'
# Print papers from a browser and validate them; make a package, and look at it and at the manual. The tests
# in tests/outside and tests/manual say what they leave out without.
paper_packages='chromium poppler-utils tidy dpkg-dev lintian mandoc'
# Wanted by tests/fuzz/long only, which says so where they are missing.
fuzz_packages='clang-14 libclang-rt-14-dev'

# Runs a command as root.
as_root() {
	if [ "$(id -u)" -eq 0 ]; then
		"$@"
	elif command -v sudo >/dev/null; then
		sudo "$@"
	else
		echo "This needs root, and there is no sudo: run as root" >&2
		echo "  $*" >&2
		return 1
	fi
}

# Installs those of the named packages that are not there; without any, it needs no network.
install_missing() {
	missing=
	if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
		echo "Not a Debian machine: going on as if these were there: $*"
		return 0
	fi
	for package in "$@"; do
		# A package of several architectures says it several times.
		# shellcheck disable=SC2016
		case $(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null) in
		installed*) ;;
		*) missing="$missing $package" ;;
		esac
	done
	if [ -z "$missing" ]; then
		return 0
	fi
	echo "Installing$missing"
	# One unreachable source among others need not stop the rest.
	as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq -o DPkg::Lock::Timeout=120 \
		update </dev/null || echo "apt-get update failed; trying all the same" >&2
	# The names are to be split. On failure what apt-get said is wanted in full.
	# shellcheck disable=SC2086
	as_root env DEBIAN_FRONTEND=noninteractive apt-get -y -qq -o DPkg::Lock::Timeout=120 \
		-o Dpkg::Use-Pty=0 install --no-install-recommends $missing </dev/null
}
