#!/usr/bin/env bash
# A plan beside a plain numpy program of its size, alternately, so that a busy
# machine slows both: the medians over some rounds, and their ratio.
# Usage: tools/bench_compare.sh [rounds]
set -eu
cd "$(dirname "$0")/.."
rounds=${1:-9}
python=
for p in /usr/bin/python3 python3; do
	if "$p" -c 'import numpy' 2>/dev/null; then
		python=$p
		break
	fi
done
[ -n "$python" ] || echo "numpy is not here, so only the plan is measured. On Debian: sudo apt-get install python3-numpy" >&2

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
go test -c -o "$work/plan.test" ./internal/plan

# metric prints the number before a unit in a benchmark's line.
metric() { awk -v unit="$1" '/^Benchmark/ { for (i = 2; i <= NF; i++) if ($i == unit) print $(i - 1) }'; }
median() { sort -n "$1" | awk '{ v[NR] = $1 } END { print (v[int((NR + 1) / 2)] + v[int(NR / 2) + 1]) / 2 }'; }

for _ in $(seq "$rounds"); do
	(cd internal/plan && "$work/plan.test" -test.run '^$' -test.bench '^BenchmarkMakeUnknown$' -test.benchtime 300x) >"$work/line"
	metric p50-ms <"$work/line" >>"$work/plan.wall"
	metric cpu-ms/op <"$work/line" >>"$work/plan.cpu"
	if [ -n "$python" ]; then
		read -r wall cpu <<<"$("$python" tools/numpy_plan.py)"
		echo "$wall" >>"$work/numpy.wall"
		echo "$cpu" >>"$work/numpy.cpu"
	fi
done

row() { awk -v n="$1" -v w="$2" -v c="$3" 'BEGIN { printf "%-28s %8.2f ms %8.2f ms\n", n, w, c }'; }
printf '%-28s %11s %11s\n' "medians of $rounds rounds" "wall" "processor"
row "plan, nothing known" "$(median "$work/plan.wall")" "$(median "$work/plan.cpu")"
[ -n "$python" ] || exit 0
row "numpy program" "$(median "$work/numpy.wall")" "$(median "$work/numpy.cpu")"
for kind in wall cpu; do
	paste "$work/plan.$kind" "$work/numpy.$kind" | awk '{ print $1 / $2 }' >"$work/ratio.$kind"
done
awk -v w="$(median "$work/ratio.wall")" -v c="$(median "$work/ratio.cpu")" 'BEGIN { printf "%-28s %8.2f    %8.2f\n", "plan over numpy, by round", w, c }'
