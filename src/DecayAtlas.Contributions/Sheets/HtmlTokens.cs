using System.Net;

namespace DecayAtlas.Contributions.Sheets;

/// <summary>A tag of a web page, or the text between two.</summary>
/// <param name="Name">Of the tag in small letters, with a slash before it where it closes; empty for text.</param>
internal readonly record struct HtmlToken(string Name, string Text, IReadOnlyDictionary<string, string> Attributes);

/// <summary>Takes a web page apart from its first letter to its last, whatever is wrong with it: spreadsheet programs write tables that are
/// no proper page, and of a page only its tables are wanted. Nothing in it is run or fetched.</summary>
internal static class HtmlTokens
{
    private static readonly Dictionary<string, string> None = [];

    public static IEnumerable<HtmlToken> Of(string html)
    {
        int at = 0;
        while (at < html.Length)
        {
            int open = html.IndexOf('<', at);
            if (open < 0)
                open = html.Length;
            if (open > at)
                yield return new HtmlToken("", WebUtility.HtmlDecode(html[at..open]), None);
            if (open >= html.Length)
                yield break;
            if (html.AsSpan(open).StartsWith("<!--", StringComparison.Ordinal))
            {
                at = After(html, "-->", open + 4);
                continue;
            }
            if (open + 1 < html.Length && html[open + 1] is '!' or '?')
            {
                at = After(html, ">", open + 1);
                continue;
            }
            bool isClosing = open + 1 < html.Length && html[open + 1] == '/';
            int name = open + (isClosing ? 2 : 1), end = name;
            while (end < html.Length && (char.IsAsciiLetterOrDigit(html[end]) || html[end] is ':' or '-'))
                end++;
            if (end == name)
            {
                // a sign for less than
                yield return new HtmlToken("", "<", None);
                at = open + 1;
                continue;
            }
            string tag = html[name..Math.Min(end, name + 40)].ToLowerInvariant();
            (Dictionary<string, string> attributes, at) = Attributes(html, end);
            yield return new HtmlToken(isClosing ? "/" + tag : tag, "", attributes);
            if (!isClosing && tag is "script" or "style" or "title" or "xml")
            {
                int close = html.IndexOf("</" + tag, at, StringComparison.OrdinalIgnoreCase);
                close = close < 0 ? html.Length : close;
                if (tag == "style" && !isClosing)
                    yield return new HtmlToken("rules", html[at..close], None);
                at = close;
            }
        }
    }

    private static int After(string html, string mark, int from) =>
        from < html.Length && html.IndexOf(mark, from, StringComparison.Ordinal) is >= 0 and int at ? at + mark.Length : html.Length;

    private static (Dictionary<string, string> Attributes, int End) Attributes(string html, int at)
    {
        Dictionary<string, string>? attributes = null;
        while (at < html.Length && html[at] != '>')
        {
            if (char.IsWhiteSpace(html[at]) || html[at] is '/' or '=' or '"' or '\'')
            {
                at++;
                continue;
            }
            int name = at;
            while (at < html.Length && !char.IsWhiteSpace(html[at]) && html[at] is not ('=' or '>' or '/'))
                at++;
            string key = html[name..Math.Min(at, name + 60)].ToLowerInvariant(), value = "";
            int next = at;
            while (next < html.Length && char.IsWhiteSpace(html[next]))
                next++;
            if (next < html.Length && html[next] == '=')
            {
                at = next + 1;
                while (at < html.Length && char.IsWhiteSpace(html[at]))
                    at++;
                int from = at;
                if (at < html.Length && html[at] is '"' or '\'')
                {
                    int close = html.IndexOf(html[at], at + 1);
                    close = close < 0 ? html.Length : close;
                    value = html[(from + 1)..close];
                    at = Math.Min(html.Length, close + 1);
                }
                else
                {
                    while (at < html.Length && !char.IsWhiteSpace(html[at]) && html[at] != '>')
                        at++;
                    value = html[from..at];
                }
            }
            if ((attributes ??= []).Count < 50)
                attributes.TryAdd(key, WebUtility.HtmlDecode(value));
        }
        return (attributes ?? None, Math.Min(html.Length, at + 1));
    }
}
