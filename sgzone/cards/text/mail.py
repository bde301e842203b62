"""A card that came by mail: what is around it, and the text of a saved message."""

from __future__ import annotations

import re
from collections.abc import Sequence
from email import message_from_bytes, policy
from email.errors import MessageError
from email.message import EmailMessage

from sgzone.cards.text.clean import clean

_HEADER = re.compile(
    r"(from|to|cc|bcc|sent|date|subject|reply-to|received|message-id|mime-version|x-[\w-]+"
    r"|content-[\w-]+|return-path|delivered-to|importance|von|an|gesendet|betreff|datum"
    r"|de|a|objet|asunto|enviado|fran|till|skickat|amne)\s*:\s*\S.*",
    re.IGNORECASE,
)
_FIRST = re.compile(r"(from|subject|date|sent|to|von|betreff|received|return-path)\s*:", re.I)
_WROTE = re.compile(
    r"(on|am|le|el|den|il|op)\s.{0,200}(wrote|schrieb|a écrit|escribió|skrev|ha scritto|schreef)"
    r"(\s.{0,80})?:",
    re.IGNORECASE,
)
_RULE = re.compile(
    r"-{2,}\s*(original|forwarded|weitergeleitete|message).*|_{5,}|-{5,}|={3,}", re.I
)
_SENT_FROM = re.compile(
    r"(sent|get) (from|via|using) .{1,60}|get outlook .{1,40}|von meinem .{1,40} gesendet", re.I
)
_SIGNATURE = re.compile(r"\s*(?:>\s*)*--\s*")
_GREETING = re.compile(r"(hi|hello|hey|dear|thanks|thank you|cheers|regards|best|best regards)\b"
                       r"(?:[^\W\d]|[ ,.!'-]){0,40}", re.I)  # fmt: skip
_MOST_HEADERS = 60

NO_TEXT = "the mail has no plain text, only a web page"
NO_TEXT_FIX = "Copy the card out of the mail into a file such as round.txt, and load that."
NOT_A_MAIL = "this is no mail that can be read"


def around_the_card(lines: Sequence[str]) -> frozenset[int]:
    """Return the numbers (from 1) of lines that a mail program wrote: headers, quotes, signatures.

    Headers count at the top and below a line that forwards; from a signature on all lines count
    until something is quoted.
    """
    found: set[int] = set()
    headers, signed = _starts_with_headers(lines), False
    for number, raw in enumerate(lines, 1):
        text = clean(raw[:1000])
        if signed and not raw.lstrip().startswith(">"):
            found.add(number)
            continue
        signed = False
        if headers and _HEADER.fullmatch(text):
            found.add(number)
            continue
        if headers and text:
            headers = raw[:1].isspace()  # a header that goes on in the next line
            if headers:
                found.add(number)
                continue
        if _SIGNATURE.fullmatch(raw) and raw.strip():
            signed = True
            found.add(number)
        elif any(form.fullmatch(text) for form in (_WROTE, _RULE, _SENT_FROM, _GREETING)):
            headers = headers or bool(_RULE.fullmatch(text))
            found.add(number)
        elif _FIRST.match(text) and _HEADER.fullmatch(text) and _next_is_header(lines, number):
            headers = True
            found.add(number)
    return frozenset(found)


def _starts_with_headers(lines: Sequence[str]) -> bool:
    first = next((line for line in lines[:5] if line.strip()), "")
    return bool(_FIRST.match(clean(first[:1000])))


def _next_is_header(lines: Sequence[str], number: int) -> bool:
    return number < len(lines) and bool(_HEADER.fullmatch(clean(lines[number][:1000])))


def text_of_mail(data: bytes) -> str | None:
    """Return the plain text of a saved message, None where it has none.

    Raises ``ValueError`` where it is no message. Lines that a mail program folded are put together.
    """
    try:
        message = message_from_bytes(data, policy=policy.default)
        assert isinstance(message, EmailMessage)
        body = message.get_body(preferencelist=("plain",))
        if body is None or body.get_content_type() != "text/plain":
            return None
        text = body.get_content()
    except (MessageError, LookupError, ValueError, TypeError, AttributeError, IndexError) as wrong:
        raise ValueError(NOT_A_MAIL) from wrong
    if not isinstance(text, str):
        return None
    if "flowed" in str(body.get("Content-Type", "")).lower():
        text = _unfolded(text)
    return text


def _unfolded(text: str) -> str:
    """Put lines together that end with a blank: the mail program broke them there."""
    found: list[str] = []
    goes_on = False
    for line in text.split("\n"):
        plain = line.rstrip("\r")
        if goes_on and plain.strip():
            found[-1] += plain
        else:
            found.append(plain)
        goes_on = plain.endswith(" ") and plain.strip() not in ("", "--")
    return "\n".join(found)
