-- With a file as argument: POST it, as JSON or as the media type that follows, with the
-- preference that follows that. Without: GET. Then the counts, for the script that called,
-- as one line of JSON on standard error.
function init(arguments)
  if arguments[1] then
    local file = assert(io.open(arguments[1], "rb"))
    wrk.method = "POST"
    wrk.body = file:read("*a")
    wrk.headers["content-type"] = arguments[2] or "application/json"
    wrk.headers["prefer"] = arguments[3]
    file:close()
  end
end

function done(summary)
  local e = summary.errors
  io.stderr:write(string.format(
    '{"requests": %d, "microseconds": %d, "status": %d, "connect": %d, "read": %d, "write": %d, "timeout": %d}\n',
    summary.requests, summary.duration, e.status, e.connect, e.read, e.write, e.timeout))
end
