using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.RegularExpressions;
using System.Text.Unicode;

namespace DecayAtlas.Pages.Html;

/// <summary>A piece of HTML. It is made from an interpolated string whose holes are encoded, so that text that came from outside can't
/// become markup by being forgotten; only another piece goes in as it is. A text is a piece too, encoded likewise.</summary>
public readonly partial struct Markup
{
    private readonly string? _text;

    private Markup(string text) => _text = text;

    public static Markup None => default;

    /// <summary>Takes markup as it is. Only for constants of our own.</summary>
    public static Markup Trusted(string markup) => new(markup);

    /// <summary>Makes a piece; every hole that is no piece itself is encoded, for text and for quoted attributes.</summary>
    public static Markup Of(MarkupWriter written) => new(written.ToString());

    /// <summary>A piece where a condition holds, else none; the holes are then not even looked at.</summary>
    public static Markup If(bool condition, [InterpolatedStringHandlerArgument(nameof(condition))] MarkupWriter written) =>
        condition ? Of(written) : None;

    public static implicit operator Markup(string? text) => Of($"{text}");

    /// <summary>Its text alone, still encoded, as an attribute takes it.</summary>
    public Markup Plain => new(Tag().Replace(ToString(), ""));

    public override string ToString() => _text ?? "";

    [GeneratedRegex("<[^>]*>", RegexOptions.NonBacktracking)]
    private static partial Regex Tag();
}

/// <summary>What the compiler turns an interpolated string for <see cref="Markup.Of"/> into.</summary>
[InterpolatedStringHandler]
public readonly ref struct MarkupWriter
{
    // quotes and angle brackets are encoded; letters of any script stay readable
    private static readonly HtmlEncoder Encoder = HtmlEncoder.Create(UnicodeRanges.All);

    private readonly StringBuilder _text;

    public MarkupWriter(int literalLength, int formattedCount) => _text = new StringBuilder(literalLength + 24 * formattedCount);

    public MarkupWriter(int literalLength, int formattedCount, bool condition, out bool isWanted) : this(literalLength, formattedCount) =>
        isWanted = condition;

    public void AppendLiteral(string literal) => _text.Append(literal);

    public void AppendFormatted(Markup piece) => _text.Append(piece.ToString());

    public void AppendFormatted(IEnumerable<Markup> pieces) => _text.AppendJoin("", pieces);

    public void AppendFormatted(string? text)
    {
        if (text is not null)
            _text.Append(Encoder.Encode(Printable(text)));
    }

    public void AppendFormatted(int number) => _text.Append(number);

    public override string ToString() => _text.ToString();

    // a control character of a hostile name could end a line or turn the writing round
    private static string Printable(string text) =>
        text.Any(IsUnprintable) ? string.Concat(text.Select(c => IsUnprintable(c) ? '\uFFFD' : c)) : text;

    private static bool IsUnprintable(char c) => (char.IsControl(c) && c is not '\n' and not '\t')
        || c is (>= '\u202A' and <= '\u202E') or (>= '\u2066' and <= '\u2069');
}
