namespace DecayAtlas.Contributions.Tables;

/// <summary>
/// Received text on its way into a file that people open in a spreadsheet. A spreadsheet takes a text that begins with one of
/// = + - @ tab or carriage return for a formula, and a formula can fetch or send data; an apostrophe before it makes it text again.
/// </summary>
/// <remarks>The list of first characters is that of the OWASP page on CSV injection (from memory).</remarks>
public static class SpreadsheetSafe
{
    /// <summary>The text, with an apostrophe before it where a spreadsheet would compute it. For text columns; numbers begin with a minus
    /// rightly.</summary>
    public static string Text(string text) =>
        text.Length > 0 && text[0] is '=' or '+' or '-' or '@' or '\t' or '\r' or '\n' ? "'" + text : text;
}
