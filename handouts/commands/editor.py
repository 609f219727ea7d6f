"""``handouts editor``: between an editor and a YAML language server, so that it completes the keys above the text of a Markdown file.

A language server knows YAML or Markdown, not both in one file.  This passes on the keys alone, each on its own line, with
the schema that the library's folder ``schema`` holds for them; all else goes through as it is.
"""

from __future__ import annotations

import argparse
import json
import shutil
import subprocess
import sys
import threading
from pathlib import PurePosixPath
from typing import IO, Any
from urllib.parse import unquote, urlparse

from handouts.commands.report import CANNOT_RUN, DONE
from handouts.library.names import FOLDERS

SERVER = "yaml-language-server"
WHOLE_TEXTS = 1
"""``TextDocumentSyncKind.Full`` of the Language Server Protocol 3.17: the editor sends whole texts, never pieces."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The command's own options."""
    parser.add_argument("--server", default=SERVER, help=f"the language server for YAML (default: {SERVER}, as npm installs it)")


def run(arguments: argparse.Namespace) -> int:
    """Pass messages on until either side ends."""
    found = shutil.which(arguments.server)
    if found is None:
        print(f"handouts: there is no '{arguments.server}'. Install it with 'npm install -g {SERVER}', or name it with --server.", file=sys.stderr)
        return CANNOT_RUN
    with subprocess.Popen([found, "--stdio"], stdin=subprocess.PIPE, stdout=subprocess.PIPE) as server:
        assert server.stdin and server.stdout
        back = threading.Thread(target=_pass_on, args=(server.stdout, sys.stdout.buffer, from_server), daemon=True)
        back.start()
        _pass_on(sys.stdin.buffer, server.stdin, from_editor)
        server.terminate()
    return DONE


def _pass_on(source: IO[bytes], target: IO[bytes], change: Any) -> None:
    """Every message of one side to the other."""
    while (message := read_message(source)) is not None:
        try:
            write_message(target, change(message))
        except BrokenPipeError:
            return


def read_message(stream: IO[bytes]) -> Any:
    """One message of the protocol; None where the stream has ended."""
    length = 0
    while line := stream.readline():
        name, _, value = line.partition(b":")
        if not line.strip():
            return json.loads(stream.read(length))
        if name.strip().lower() == b"content-length":
            length = int(value)
    return None


def write_message(stream: IO[bytes], message: Any) -> None:
    """One message of the protocol."""
    data = json.dumps(message, ensure_ascii=False).encode()
    stream.write(b"Content-Length: %d\r\n\r\n" % len(data) + data)
    stream.flush()


def from_editor(message: Any) -> Any:
    """A message with the keys alone in place of the text of a Markdown file of a library."""
    parameters = message.get("params") or {}
    document = parameters.get("textDocument") or {}
    kind = kind_of(document.get("uri", "")) if isinstance(document, dict) else ""
    if not kind:
        return message
    if message.get("method") == "textDocument/didOpen":
        document |= {"languageId": "yaml", "text": keys_only(document.get("text", ""), kind)}
    elif message.get("method") == "textDocument/didChange":
        for change in parameters.get("contentChanges", ()):
            change["text"] = keys_only(change.get("text", ""), kind)
    return message


def from_server(message: Any) -> Any:
    """A message that asks the editor for whole texts."""
    capabilities = (message.get("result") or {}).get("capabilities") if isinstance(message.get("result"), dict) else None
    if capabilities:
        capabilities["textDocumentSync"] = {"openClose": True, "change": WHOLE_TEXTS}
    return message


def kind_of(address: str) -> str:
    """The kind of a Markdown file of a library by its address; empty for any other."""
    path = PurePosixPath(unquote(urlparse(address).path))
    ending, kind = FOLDERS.get(path.parent.name, ("", ""))
    return kind if path.suffix == ending == ".md" else ""


def keys_only(text: str, kind: str) -> str:
    """The keys on the lines where they stand, with the schema of their kind in place of the mark above them; no text below."""
    first, *lines = text.split("\n")
    if first.rstrip() != "---":
        return ""
    end = next((at for at, line in enumerate(lines) if line.rstrip() == "---"), len(lines))
    return "\n".join([f"# {SERVER}: $schema=../schema/{kind}.schema.json", *lines[:end], ""])
