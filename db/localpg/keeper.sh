# Minds a shared test server: keeper USERS IDLE PROGRAM ARGUMENT...
# Stops the server when for IDLE seconds nobody held the file USERS locked, and ends with it; see Shared.
users=$1 idle=$2
shift 2
"$@" &
server=$!
trap 'kill -INT $server' INT TERM HUP
exec 9<"$users"
quiet=0
while sleep 1 && kill -0 $server 2>/dev/null; do
	if flock -n -x 9; then quiet=$((quiet + 1)); else quiet=0; fi
	if [ $quiet -ge "$idle" ]; then
		kill -INT $server
		break # the lock stays ours to the end, so that new users wait for it
	fi
	flock -u 9
done
wait $server
