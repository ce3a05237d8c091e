namespace DecayAtlas.Contributions.Findings;

/// <summary>What makes a file no CSV table (RFC 4180), wherever it is found out.</summary>
internal static class CsvFault
{
    /// <summary>How to find a quotation mark that swallows the separators behind it.</summary>
    public const string LookForQuote = "look for a quotation mark that is not closed, and save the table again";

    public static Finding OddQuotes(string file) => new(FindingCode.CsvBroken, file,
        "an odd number of quotation marks, so that one text never ends", "every quoted text closed",
        "close the text, and write a quotation mark inside a text twice");

    public static Finding Unreadable(string file) =>
        new(FindingCode.CsvBroken, file, "rows that cannot be told apart", "a CSV table", LookForQuote);

    /// <summary>What the library throws at such a file.</summary>
    public static bool Is(Exception fault) => fault is InvalidDataException or NotSupportedException or ArgumentException;
}
