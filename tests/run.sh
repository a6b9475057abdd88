#!/usr/bin/env bash
# Installs what the tests need, builds everything, runs every test, names what failed, and ends with the line "N passed, N failed".
# Works on a fresh Debian machine with the .NET 10 SDK and an empty HOME. Results lie in artifacts/test-results.
set -u
cd "$(dirname "$0")/.." || exit 1
export DOTNET_NOLOGO=1 DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_SKIP_FIRST_TIME_EXPERIENCE=1
results=artifacts/test-results
rm -rf "$results"
mkdir -p "$results"
passed=0
failed=0
ended= # Projects that did not come to their end, a line each.

# The tests that failed, each with the first lines of its message, from the result files. Errors beside a test, such as while cleaning up, are failures there too.
name_failures() {
  cat "$results"/*.xml 2>/dev/null | awk '
    function plain(s) {
      gsub(/&lt;/, "<", s); gsub(/&gt;/, ">", s); gsub(/&quot;/, "\"", s); gsub(/&#xA;/, " ", s); gsub(/&amp;/, "\\&", s); gsub(/\\"/, "\"", s)
      return s
    }
    BEGIN { RS = "<(test|error) " }
    NR > 1 && /<failure/ {
      name = $0; sub(/^[^>]* name="/, "", name); sub(/".*/, "", name)
      message = $0; sub(/.*<message>/, "", message); sub(/<\/message>.*/, "", message)
      print "FAILED: " plain(name)
      lines = split(message, line, "\n")
      for (i = 1; i <= lines && i <= 6; i++) print "    " plain(line[i])
    }'
}

finish() {
  name_failures
  printf '%s' "$ended"
  echo "$passed passed, $failed failed"
  [ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
  exit
}

# A step that is not a test but must not fail counts as one failure.
must() {
  echo "== $*"
  "$@" || { echo "FAILED: $*"; failed=$((failed + 1)); finish; }
}

# The browser for the browser tests, and readers of PDF that are not ours.
need_packages() {
  local missing=()
  [ -x /usr/bin/chromium ] || missing+=(chromium)
  command -v pdftotext >/dev/null || missing+=(poppler-utils)
  command -v qpdf >/dev/null || missing+=(qpdf)
  [ ${#missing[@]} -eq 0 ] && return 0
  local sudo=
  [ "$(id -u)" -eq 0 ] || sudo=sudo
  $sudo apt-get update -qq && DEBIAN_FRONTEND=noninteractive $sudo apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
}

# One test project, run by its own in-process runner; its counts come from the result file. A test that hangs is named after four minutes, and its project ended after half an hour.
run_tests() {
  local name=$1 xml="$PWD/$results/$1.xml"
  echo "== $name"
  timeout --kill-after=30 1800 dotnet run --no-build -c Release --project "tests/$name" -- -result-xml "$xml" -noLogo -longRunning 240
  local code=$?
  local counts
  counts=$(grep -o '<assembly [^>]*>' "$xml" 2>/dev/null | head -n 1)
  local p f e
  p=$(sed -n 's/.* passed="\([0-9]*\)".*/\1/p' <<<"$counts")
  f=$(sed -n 's/.* failed="\([0-9]*\)".*/\1/p' <<<"$counts")
  e=$(sed -n 's/.* errors="\([0-9]*\)".*/\1/p' <<<"$counts")
  passed=$((passed + ${p:-0}))
  failed=$((failed + ${f:-0} + ${e:-0}))
  # A runner that died or found no test is a failure of its own.
  if [ "$code" -ne 0 ] && [ $((${f:-0} + ${e:-0})) -eq 0 ] || [ "${p:-0}" -eq 0 ]; then
    ended+="FAILED: $name ended with code $code and ${p:-no} tests passed"$'\n'
    failed=$((failed + 1))
  fi
}

must need_packages
must dotnet restore --locked-mode
must dotnet build --no-restore -c Release
for project in Diagnosis VirtualCars Signals Obd Estimates Comebacks Storage Reports Web Browser; do
  run_tests "ShopDiag.$project.Tests"
done
finish
