#!/usr/bin/env bash
# Runs every test, against the real servers and the real browser, which it installs where they are missing (Debian packages).
# Needs the .NET SDK 10 and Node 20. The last line is "N passed, N failed" (", N skipped" may follow); exit code 1 on any failure.
#   tests/run.sh            all tests, short forms
#   tests/run.sh --long     the long forms too; writes tests/long-results/<date>-<commit>.txt, to be committed
# INCUBATION_SEED=n repeats the chance of an earlier run.
set -uo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD=1
export INCUBATION_SEED="${INCUBATION_SEED:-$((RANDOM * 32768 + RANDOM + 1))}"
long=no
for argument in "$@"; do
  case "$argument" in
    --long) long=yes; export INCUBATION_LONG=1 ;;
    *) echo "tests/run.sh: unknown option $argument. Allowed: --long" >&2; exit 2 ;;
  esac
done

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
passed=0 failed=0 skipped=0
: > "$work/failures"

say() { printf '\n== %s (%s s)\n' "$1" "$SECONDS"; }

# A step that is no test of its own counts as one: it passes or it fails.
step() {
  say "$1"
  shift
  if "$@"; then passed=$((passed + 1)); else failed=$((failed + 1)); echo "FAILED: $*" | tee -a "$work/failures"; fi
}

finish() {
  echo
  # Said again at the end, where nobody has to look for it.
  if [ -s "$work/failures" ]; then echo "What failed:"; cut -c1-400 "$work/failures"; echo; fi
  echo "seed $INCUBATION_SEED; $SECONDS s in all"
  local line="$passed passed, $failed failed"
  if [ "$skipped" -gt 0 ]; then line="$line, $skipped skipped"; fi
  if [ "$long" = yes ]; then keep_results "$line"; fi
  echo "$line"
  [ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
  exit $?
}

as_root() { if [ "$(id -u)" -eq 0 ]; then "$@"; else sudo -n "$@"; fi; }

# Nothing that is installed here may start by itself: a policy-rc.d that says 101 (Debian policy 9.3.3.1) holds services back meanwhile.
install_packages() {
  local missing=() pair
  for pair in mosquitto:mosquitto mosquitto_pub:mosquitto-clients influxd:influxdb chromium:chromium mkfs.ext4:e2fsprogs losetup:mount dmsetup:dmsetup \
              fc-list:fontconfig g++:g++; do
    if ! PATH="$PATH:/usr/sbin:/sbin" command -v "${pair%%:*}" > /dev/null; then missing+=("${pair##*:}"); fi
  done
  if ! fc-list 2> /dev/null | grep -q .; then missing+=(fonts-dejavu-core); fi
  if [ ${#missing[@]} -eq 0 ]; then echo "nothing is missing"; return 0; fi
  if ! command -v apt-get > /dev/null; then
    echo "no apt-get here; install these yourself: ${missing[*]}"
    [ "${CI:-}" != true ]
    return $?
  fi
  local policy=/usr/sbin/policy-rc.d ours=no
  if [ ! -e "$policy" ]; then
    printf '#!/bin/sh\nexit 101\n' > "$work/policy-rc.d"
    as_root install -m 755 "$work/policy-rc.d" "$policy" && ours=yes
  fi
  as_root apt-get update -qq && as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" > "$work/apt.log" 2>&1
  local result=$?
  if [ "$ours" = yes ]; then as_root rm -f "$policy"; fi
  if [ $result -ne 0 ]; then tail -n 20 "$work/apt.log"; echo "could not install: ${missing[*]}"; fi
  # Without CI=true the tests that need what is missing say so and are skipped.
  [ $result -eq 0 ] || [ "${CI:-}" != true ]
}

# xunit's own report (xUnit.net v3 XML, "assembly" elements with total, passed, failed, skipped, errors) rather than a line of text.
count_dotnet() {
  local report=$1 ended=$2 name=$3 p=0 f=0 s=0 e=0
  if [ -s "$report" ]; then
    local head
    head=$(grep -o '<assembly [^>]*>' "$report" | head -n 1)
    p=$(attribute "$head" passed) f=$(attribute "$head" failed) s=$(attribute "$head" skipped) e=$(attribute "$head" errors)
  fi
  echo "$name: $p passed, $f failed, $s skipped, $e errors, exit code $ended"
  passed=$((passed + p)) failed=$((failed + f + e)) skipped=$((skipped + s))
  # A run that ended badly or ran nothing without saying which test failed still failed.
  if [ $((f + e)) -eq 0 ] && { [ "$ended" -ne 0 ] || [ $((p + s)) -eq 0 ]; }; then failed=$((failed + 1)); fi
}

attribute() {
  local value
  value=$(sed -n "s/.* $2=\"\([0-9]*\)\".*/\1/p" <<< "$1")
  echo "${value:-0}"
}

# Where the minutes of a run go.
slowest() {
  [ -s "$1" ] || return 0
  echo "slowest, seconds:"
  grep -o '<test [^>]*' "$1" | sed -n 's/.* name="\([^"]*\)".* time="\([0-9.]*\)".*/\2 \1/p' | sort -rn | head -n 8 | cut -c1-160
}

run_dotnet() {
  local name=$1 report="$work/$1.xml"
  say "$name"
  "tests/$name/bin/Debug/net10.0/$name" -noColor -result-xml "$report" -showLiveOutput < /dev/null 2>&1 | tee "$work/$name.log" | grep -v '^ *\[STARTING\|^xUnit.net' 
  local ended=${PIPESTATUS[0]}
  grep -A 12 '\[FAIL\]$' "$work/$name.log" >> "$work/failures"
  slowest "$report"
  count_dotnet "$report" "$ended" "$name"
}

run_vitest() {
  say "dashboards: npm run check"
  local report="$work/vitest.json" ended
  (cd grafana-free-dashboards && npm run check --silent -- --reporter=default --reporter=json --outputFile.json="$report") < /dev/null 2>&1 | tee "$work/vitest.log"
  ended=${PIPESTATUS[0]}
  grep -A 12 'FAIL ' "$work/vitest.log" >> "$work/failures"
  local p=0 f=0 s=0
  if [ -s "$report" ]; then
    read -r p f s < <(node -e '
      const r = JSON.parse(require("fs").readFileSync(process.argv[1], "utf8"));
      console.log(r.numPassedTests, r.numFailedTests, r.numPendingTests + r.numTodoTests);' "$report")
  fi
  echo "dashboards: $p passed, $f failed, $s skipped, exit code $ended"
  passed=$((passed + p)) failed=$((failed + f)) skipped=$((skipped + s))
  if [ "$f" -eq 0 ] && { [ "$ended" -ne 0 ] || [ "$p" -eq 0 ]; }; then failed=$((failed + 1)); fi
}

# At least 95 of 100 lines of what reads a probe's payload are reached by its tests.
reader_coverage() {
  local include=() type
  for type in 'Payload*' 'SenML*' Rfc3339 SentTime Units 'Quantity*' PlatinumResistance ContactWords Availability ReadingJudge; do
    include+=(--coverlet-include "[Incubation.Core]Incubation.Core.Readings.$type")
  done
  INCUBATION_LONG=0 dotnet test --project tests/Incubation.Core.Tests --no-build --results-directory "$work/coverage" --coverlet \
    --coverlet-output-format cobertura "${include[@]}" --filter-namespace 'Incubation.Core.Tests.Readings*' < /dev/null || return 1
  local rate
  rate=$(grep -ho '<coverage line-rate="[0-9.]*"' "$work"/coverage/*cobertura*.xml | head -n 1 | grep -o '[0-9.]*')
  echo "payload reader: line rate $rate passed by its tests" | tee "$work/coverage.log"
  awk -v rate="$rate" 'BEGIN { exit !(rate >= 0.95) }'
}

keep_results() {
  local file
  mkdir -p tests/long-results
  file="tests/long-results/$(date -u +%Y-%m-%d)-$(git rev-parse --short HEAD 2> /dev/null || echo unknown).txt"
  {
    echo "date $(date -u +%Y-%m-%dT%H:%M:%SZ), commit $(git rev-parse HEAD 2> /dev/null || echo unknown)$(git diff --quiet HEAD 2> /dev/null || echo ', with changes not committed')"
    echo "seed $INCUBATION_SEED, $(nproc) cores, $(uname -sr), .NET SDK $(dotnet --version), Node $(node --version), $SECONDS s"
    grep -hE 'passed|payloads, seed|synchronous=|kills,|on-delay|page up|Chromium|^ *import of ' "$work"/*.log | sed 's/^ *//' | sort -u
    echo "$1"
  } > "$file"
  echo "results in $file"
}

echo "seed $INCUBATION_SEED"
step "servers and browser" install_packages
step "restore" dotnet restore Incubation.sln -v q
say "build, dashboards included"
if ! dotnet build Incubation.sln --no-restore -v q -nr:false; then failed=$((failed + 1)); finish; fi
passed=$((passed + 1))
# The build itself refuses code that breaks the style rules; what it does not see is white space.
step "formatting" dotnet format whitespace . --folder --verify-no-changes --exclude grafana-free-dashboards/node_modules
run_vitest
if [ "$long" = yes ]; then step "lines of the payload reader" reader_coverage; fi
for project in Core Reference Simulation Storage Service EndToEnd; do run_dotnet "Incubation.$project.Tests"; done
finish
