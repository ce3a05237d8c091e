using System.Globalization;
using System.Text;

namespace DecayAtlas.Grids.Projections;

/// <summary>One element of well-known text (OGC 18-010r7): a keyword, and between brackets texts, numbers, words and elements.</summary>
internal sealed class WktNode(string keyword)
{
    private const int MaxDepth = 64;
    private const int MaxLength = 100_000;

    /// <summary>The keyword in capitals.</summary>
    public string Keyword { get; } = keyword;

    public List<string> Texts { get; } = [];

    public List<double> Numbers { get; } = [];

    public List<WktNode> Children { get; } = [];

    public string Name => Texts.Count > 0 ? Texts[0] : "";

    /// <summary>The first child of one of the keywords, in the order of the keywords.</summary>
    public WktNode? Child(params string[] keywords) =>
        keywords.Select(keyword => Children.Find(child => child.Keyword == keyword)).FirstOrDefault(child => child is not null);

    public static WktNode Parse(string text)
    {
        if (text.Length > MaxLength)
            throw Damaged($"it is {text.Length} letters long");

        int at = 0;
        WktNode root = Element(text, ref at, 0);
        return text.AsSpan(at).Trim().IsEmpty ? root : throw Damaged($"something follows its last bracket: \"{Cut(text[at..])}\"");
    }

    private static WktNode Element(string text, ref int at, int depth)
    {
        SkipBlanks(text, ref at);
        int start = at;
        while (at < text.Length && (char.IsAsciiLetterOrDigit(text[at]) || text[at] == '_'))
            at++;

        WktNode node = new(text[start..at].ToUpperInvariant());
        SkipBlanks(text, ref at);
        if (node.Keyword.Length == 0 || at >= text.Length || text[at] is not ('[' or '(') || depth > MaxDepth)
            throw Damaged($"a keyword with a bracket was expected at \"{Cut(text[start..])}\"");

        do
        {
            at++;
            Value(text, ref at, node, depth);
            SkipBlanks(text, ref at);
        }
        while (at < text.Length && text[at] == ',');
        if (at >= text.Length || text[at] is not (']' or ')'))
            throw Damaged($"the bracket of {node.Keyword} is not closed");

        at++;
        return node;
    }

    private static void Value(string text, ref int at, WktNode node, int depth)
    {
        SkipBlanks(text, ref at);
        if (at < text.Length && text[at] == '"')
        {
            StringBuilder quoted = new();
            for (at++; at < text.Length; at++)
            {
                if (text[at] == '"')
                {
                    at++;
                    if (at >= text.Length || text[at] != '"')
                        break;
                }

                quoted.Append(text[at]);
            }

            node.Texts.Add(quoted.ToString());
            return;
        }

        int start = at;
        while (at < text.Length && text[at] is not (',' or '[' or ']' or '(' or ')'))
            at++;

        if (at < text.Length && text[at] is '[' or '(')
        {
            at = start;
            node.Children.Add(Element(text, ref at, depth + 1));
        }
        else if (double.TryParse(text.AsSpan(start, at - start).Trim(), NumberStyles.Float, CultureInfo.InvariantCulture,
            out double number))
        {
            node.Numbers.Add(number);
        }

        // Bare words (axis directions and the like) carry nothing that is needed here.
    }

    private static void SkipBlanks(string text, ref int at)
    {
        while (at < text.Length && char.IsWhiteSpace(text[at]))
            at++;
    }

    private static string Cut(string text) => text.Length <= 40 ? text : text[..40] + "...";

    private static GridException Damaged(string what) => new($"The well-known text of a reference system is damaged: {what}.");
}
