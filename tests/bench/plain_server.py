"""The product's server without TLS, to be laid beside others that have none.

Run as a process: ``plain_server.py FOLDER``; prints its port.
"""

from __future__ import annotations

import sys
from pathlib import Path

import uvicorn

# As on a home server, which has no pandas for sqlite-utils to import.
sys.modules["pandas"] = None  # type: ignore[assignment]
sys.path.insert(0, str(Path(__file__).parents[2]))

from syncserver.bootstrap import bootstrap  # noqa: E402
from syncserver.serving import configured, listen  # noqa: E402


def main() -> None:
    config = configured(bootstrap(Path(sys.argv[1])))
    config.ssl_certfile = config.ssl_keyfile = None
    listener = listen("127.0.0.1", 0)
    print(listener.getsockname()[1], flush=True)
    uvicorn.Server(config).run(sockets=[listener])


if __name__ == "__main__":
    main()
