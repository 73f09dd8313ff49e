#!/usr/bin/env bash
# What the program itself takes, as it is shipped: size, time from the start to
# the first answer of a plan and to the first page, memory when idle.
# Usage: tools/measure.sh [rounds]      Needs Linux (for the memory).
set -eu
cd "$(dirname "$0")/.."
rounds=${1:-10}
idle=5 # seconds before memory is read
port=18017

work=$(mktemp -d)
server=
finish() {
	[ -z "$server" ] || kill "$server" 2>/dev/null || true
	rm -rf "$work"
}
trap finish EXIT
CGO_ENABLED=0 go build -trimpath -ldflags "-s -w" -o "$work/vatside" ./cmd/vatside
cat >"$work/wish.json" <<'JSON'
{
  "paper": {
    "furnish": [{"fibre": "cotton rag", "share_pct": 70}, {"fibre": "abaca", "share_pct": 30}],
    "grammage_conditioned_g_m2": 100, "beating_hours": 3, "drying": "stack"
  },
  "sheet": {"long_mm": 420, "short_mm": 297},
  "good_sheets": 50
}
JSON

now() { echo "${EPOCHREALTIME/[.,]/}"; } # µs
# page asks for a page once and succeeds if it comes; no program is started for
# it, which would be timed as well.
page() {
	local status
	{ exec 3<>"/dev/tcp/127.0.0.1/$port"; } 2>/dev/null || return 1
	printf 'GET %s HTTP/1.1\r\nHost: 127.0.0.1:%s\r\nConnection: close\r\n\r\n' "$1" "$port" >&3
	read -r _ status _ <&3
	exec 3<&- 3>&-
	[ "$status" = 200 ]
}
median() { sort -n "$1" | awk '{ v[NR] = $1 } END { print (v[int((NR + 1) / 2)] + v[int(NR / 2) + 1]) / 2 }'; }
worst() { sort -n "$1" | tail -1; }

exec 4<> <(:) # nothing ever comes here: reading it with a limit is a sleep
TIMEFORMAT='%U %S'
for i in $(seq "$rounds"); do
	t=$(now)
	{ time "$work/vatside" plan "$work/wish.json" --json >"$work/answer.json"; } 2>"$work/times"
	echo $(($(now) - t)) >>"$work/plan"
	awk '{ print ($1 + $2) * 1e6 }' "$work/times" >>"$work/plan.cpu"

	for what in serve demo; do # an empty studio, and the filled one of the demo
		args=(serve --data "$work/studio$i") first=/welcome
		[ $what = serve ] || args=(demo) first=/
		t=$(now)
		"$work/vatside" "${args[@]}" --no-browser --listen "127.0.0.1:$port" >/dev/null 2>&1 &
		server=$!
		until page $first; do read -rt 0.002 -u 4 || true; done
		echo $(($(now) - t)) >>"$work/$what"
		sleep "$idle"
		awk '/^VmRSS/ { print $2 }' "/proc/$server/status" >>"$work/$what.memory"
		kill "$server"
		wait "$server" || true
		server=
	done
done

ms() { awk -v n="$1" -v m="$(median "$2")" -v w="$(worst "$2")" 'BEGIN { printf "%-44s %8.1f %8.1f ms\n", n, m / 1000, w / 1000 }'; }
mb() { awk -v n="$1" -v m="$(median "$2")" -v w="$(worst "$2")" 'BEGIN { printf "%-44s %8.1f %8.1f MB\n", n, m * 1024 / 1e6, w * 1024 / 1e6 }'; }
printf '%-44s %8s %8s\n' "of $rounds rounds" median worst
ms "start to the answer of vatside plan" "$work/plan"
ms "  processor time of it" "$work/plan.cpu"
ms "start to the first page, studio made anew" "$work/serve"
ms "start to the first page, demo filled" "$work/demo"
mb "memory idle for $idle s, empty studio" "$work/serve.memory"
mb "memory idle for $idle s, demo" "$work/demo.memory"
wc -c <"$work/vatside" | awk '{ printf "%-44s %8.1f          MB\n", "size of the program", $1 / 1e6 }'
