#!/usr/bin/env bash
# Puts a real VS Code workbench (code-server), ripgrep for it and playwright-core into a cache folder, and finds a
# chromium. Needs the npm registry and, on a bare Debian, apt (chromium, fonts, build tools). Linux x64.
#
#   E2E_CACHE      where everything goes   (default: ~/.cache/tarebook-e2e)
#   E2E_CHROMIUM   a chromium or chrome to use instead of the first one on the PATH
#   E2E_APT=0      never call apt-get; name what is missing instead
#
# Writes $E2E_CACHE/workbench.json, which workbench.mjs reads. Run again, it keeps a finished install.
set -euo pipefail

cache=${E2E_CACHE:-$HOME/.cache/tarebook-e2e}
code_server=4.100.3 vscode=1.100.3 playwright=1.65.1 ripgrep=1.18.0
recipe=1 # raise when the steps below change, so that old caches are rebuilt

say() { printf 'e2e install: %s\n' "$*"; }
fail() { printf 'e2e install: FAILED: %s\n' "$*" >&2; exit 1; }
chromium_path() {
  local c
  for c in "${E2E_CHROMIUM:-}" chromium chromium-browser google-chrome; do
    [ -n "$c" ] && command -v "$c" && return 0
  done
  return 1
}

command -v node >/dev/null || fail 'no node on the PATH'
home=$cache/code-server-$code_server
stamp="$code_server $playwright $ripgrep $(node -v) recipe $recipe"
if [ -f "$cache/workbench.json" ] && [ "$(cat "$home/.done" 2>/dev/null)" = "$stamp" ] && chromium_path >/dev/null; then
  say "VS Code $vscode is ready in $home"
  exit 0
fi

mkdir -p "$home" || fail "cannot write $home"
log=$home/install.log
: > "$log"
step() { # step "what it does" command...
  local what=$1 t0=$SECONDS
  shift
  say "$what"
  "$@" >> "$log" 2>&1 || { tail -n 25 "$log" >&2; fail "$what (whole log: $log)"; }
  say "  done in $((SECONDS - t0)) s"
}

# Debian packages, only those that are missing.
want=()
chromium_path >/dev/null || want+=(chromium)
command -v make >/dev/null && command -v g++ >/dev/null || want+=(build-essential)
command -v python3 >/dev/null || want+=(python3)
[ -f /usr/share/fonts/truetype/dejavu/DejaVuSansMono.ttf ] || want+=(fonts-dejavu-core)
if [ ${#want[@]} -gt 0 ]; then
  if [ "${E2E_APT:-1}" != 1 ] || ! command -v apt-get >/dev/null; then
    fail "missing on this machine: ${want[*]}"
  fi
  sudo=()
  if [ "$(id -u)" != 0 ]; then
    sudo -n true 2>/dev/null || fail "missing on this machine: ${want[*]} (as root: apt-get install ${want[*]})"
    sudo=(sudo -n)
  fi
  step 'apt-get update' "${sudo[@]}" apt-get update
  step "apt-get install ${want[*]}" \
    "${sudo[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends "${want[@]}"
fi
chromium=$(chromium_path) || fail 'no chromium found; set E2E_CHROMIUM'

cd "$home"
echo '{"private":true}' > package.json
quiet=(--ignore-scripts --no-audit --no-fund --no-progress --loglevel=error)
node_bin=$(command -v node)
# Native add-ons compile against the headers beside the node that will run them, when they are there.
include=$(dirname "$(dirname "$(readlink -f "$node_bin")")")
[ -f "$include/include/node/node.h" ] && export npm_config_nodedir=$include
step "npm: code-server $code_server (VS Code $vscode) and playwright-core $playwright" \
  npm install "${quiet[@]}" "code-server@$code_server" "playwright-core@$playwright" "@vscode/ripgrep-linux-x64@$ripgrep"
step 'build argon2 (code-server loads it even with --auth none)' npm rebuild argon2
cd node_modules/code-server/lib/vscode
step "npm: the packages VS Code's server needs" npm install --omit=dev "${quiet[@]}"
ln -sfn node_modules node_modules.asar
step 'build its native add-ons' npm rebuild @vscode/spdlog native-watchdog
# ripgrep's own package fetches its binary from a release page when it is installed; npm has the same binary.
mkdir -p node_modules/@vscode/ripgrep/bin
ln -sfn "$home/node_modules/@vscode/ripgrep-linux-x64/bin/rg" node_modules/@vscode/ripgrep/bin/rg
cd "$home"

entry=$home/node_modules/code-server/out/node/entry.js
step 'check that it starts' "$node_bin" "$entry" --config "$home/config.yaml" --version
cat > "$cache/workbench.json" <<JSON
{
  "vscode": "$vscode",
  "node": "$node_bin",
  "entry": "$entry",
  "playwright": "$home/node_modules/playwright-core/index.mjs",
  "chromium": "$chromium",
  "config": "$home/config.yaml"
}
JSON
echo "$stamp" > "$home/.done"
say "VS Code $vscode is ready in $home ($(du -sh "$home" | cut -f1))"
