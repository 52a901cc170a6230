"""Who is answered by the server of a page, and who is refused."""

from __future__ import annotations

import http.client
import json
import re
import socket
import threading
import time
from collections.abc import Iterator
from typing import Final

import pytest

from cli.calls import SOUND
from reports.pages import RULES
from wattproof.cli.errors import CallUnusable
from wattproof.cli.page_server import AT_ONCE, HOST, PageServer
from wattproof.engine import check_file
from wattproof.reports import page
from wattproof.reports.page.contents import page_of
from wattproof.testing import A_DAY, study_of

RESULT = check_file("plan.yaml", RULES, today=A_DAY, text=SOUND)
PAGE: Final = page.render(page_of(study_of(SOUND), RESULT, {"plan.yaml": SOUND}), live=True)


@pytest.fixture
def server() -> Iterator[PageServer]:
    started = PageServer(waits=0.5)
    started.show(PAGE)
    yield started
    started.close()


def asked(
    server: PageServer, path: str, method: str = "GET", **headers: str
) -> tuple[int, dict[str, str], bytes]:
    connection = http.client.HTTPConnection(HOST, server.port, timeout=10)
    connection.request(method, path, headers=headers)
    answer = connection.getresponse()
    return answer.status, dict(answer.getheaders()), answer.read()


def raw(server: PageServer, request: bytes) -> bytes:
    with socket.create_connection((HOST, server.port), timeout=10) as opened:
        opened.sendall(request)
        opened.shutdown(socket.SHUT_WR)
        data = b""
        while chunk := opened.recv(65536):
            data += chunk
        return data


def test_the_page_is_served_under_its_secret_alone(server: PageServer) -> None:
    status, headers, data = asked(server, f"/{server.token}/")
    assert status == 200
    assert headers["Content-Type"] == "text/html; charset=utf-8"
    assert b'data-page="1"' in data
    assert data.decode().replace('data-page="1"', f'data-page="{page.NUMBER}"') == PAGE
    for path in (
        "/",
        "/index.html",
        f"/{server.token}",
        f"/{server.token[:-1]}/",
        "/%C3%A9",
        "//[",
    ):
        status, _, data = asked(server, path)
        assert (status, data) == (404, b"Not Found")
    for rest in ("x", "../", "?a=1", "state/", "state/x"):
        assert asked(server, f"/{server.token}/{rest}")[0] == 404


def test_what_it_may_load_is_bounded_by_a_strict_policy(server: PageServer) -> None:
    _, headers, data = asked(server, f"/{server.token}/")
    policy = headers["Content-Security-Policy"]
    assert policy.startswith("default-src 'none'; style-src 'sha256-")
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy
    own = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', data.decode())
    assert own is not None
    assert policy.startswith(own[1].replace("&#39;", "'"))
    assert headers["Cache-Control"] == "no-store"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "no-referrer"
    assert b"http:" not in data.replace(b"http://www.w3.org", b"")


@pytest.mark.parametrize(
    "host",
    ["evil.example", "evil.example:{port}", "127.0.0.1", "127.0.0.1:1", "[::1]:{port}", ""],
)
def test_another_host_is_refused(server: PageServer, host: str) -> None:
    named = host.format(port=server.port)
    status, _, data = asked(server, f"/{server.token}/", Host=named)
    assert status == 421
    assert b"html" not in data


def test_hosts_that_are_missing_or_two_and_pages_of_others_are_refused(server: PageServer) -> None:
    way, own = f"/{server.token}/".encode(), f"{HOST}:{server.port}".encode()
    assert raw(server, b"GET %b HTTP/1.0\r\nHost: %b\r\n\r\n" % (way, own)).startswith(
        b"HTTP/1.0 200"
    )
    for request in (
        b"GET %b HTTP/1.0\r\n\r\n" % way,
        b"GET %b HTTP/1.1\r\nHost: %b\r\nHost: evil.example\r\n\r\n" % (way, own),
        b"GET %b HTTP/1.1\r\nHost: %b\r\nOrigin: http://evil.example\r\n\r\n" % (way, own),
        b"GET %b HTTP/1.1\r\nHost: %b\r\nOrigin: null\r\n\r\n" % (way, own),
    ):
        assert raw(server, request).startswith(b"HTTP/1.0 421"), request
    absolute = b"GET http://evil.example%b HTTP/1.1\r\nHost: evil.example\r\n\r\n" % way
    assert raw(server, absolute).startswith(b"HTTP/1.0 421")


@pytest.mark.parametrize("method", ["HEAD", "POST", "PUT", "DELETE", "OPTIONS", "PATCH", "ODD"])
def test_nothing_but_get_is_answered(server: PageServer, method: str) -> None:
    status, headers, data = asked(server, f"/{server.token}/", method)
    assert (status, headers["Allow"]) == (405, "GET")
    assert b"<" not in data


@pytest.mark.parametrize(
    "request_",
    [
        b"",
        b"\r\n\r\n",
        b"GET\r\n\r\n",
        b"GET / HTTP/9.9\r\n\r\n",
        b"\x00\xff\x80" * 100,
        b"GET /" + b"a" * 70_000 + b" HTTP/1.1\r\n\r\n",
        b"GET / HTTP/1.1\r\n" + b"A: b\r\n" * 200 + b"\r\n",
        b"GET /\xc3\xa9/\xff HTTP/1.1\r\nHost: \xff\r\n\r\n",
        b"<script>alert(1)</script> / HTTP/1.1\r\n\r\n",
    ],
)
def test_requests_that_are_none_end_nothing(server: PageServer, request_: bytes) -> None:
    assert b"script" not in raw(server, request_)
    assert asked(server, f"/{server.token}/")[0] == 200


def test_a_question_waits_until_there_is_another_page(server: PageServer) -> None:
    answers: list[bytes] = []
    way = f"/{server.token}/state?after="
    asking = threading.Thread(target=lambda: answers.append(asked(server, way + "1")[2]))
    asking.start()
    time.sleep(0.05)
    assert answers == []
    assert not server.show(PAGE)  # the same page is no new one
    assert server.show(PAGE + "\n")
    asking.join(5)
    assert json.loads(answers[0]) == {"page": 2}
    assert json.loads(asked(server, way + "1")[2]) == {"page": 2}
    for odd in ("", "x", "9" * 500, "%00", "2&after=1&a=b"):
        assert json.loads(asked(server, way + odd)[2]) == {"page": 2}


def test_more_than_so_many_at_once_are_hung_up_on() -> None:
    server = PageServer(waits=20)
    server.show(PAGE)
    waiting = [socket.create_connection((HOST, server.port), timeout=10) for _ in range(AT_ONCE)]
    try:
        time.sleep(0.3)
        with pytest.raises((http.client.HTTPException, OSError)):
            asked(server, f"/{server.token}/")
    finally:
        for each in waiting:
            each.close()
    for _ in range(100):
        try:
            assert asked(server, f"/{server.token}/")[0] == 200
            break
        except (http.client.HTTPException, OSError):
            time.sleep(0.05)
    else:
        pytest.fail("what was hung up on was not given free")
    server.close()


def test_it_is_on_this_machine_alone_and_gives_its_port_back() -> None:
    server = PageServer()
    assert server.address.startswith(f"http://127.0.0.1:{server.port}/")
    with pytest.raises(CallUnusable, match="cannot be had"):
        PageServer(server.port)
    server.close()
    again = PageServer(server.port)
    assert again.token != server.token
    again.close()
