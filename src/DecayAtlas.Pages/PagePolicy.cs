namespace DecayAtlas.Pages;

/// <summary>What a browser may load for the pages: nothing from outside, and no script, style or picture that stands in a page itself: what
/// a stranger wrote can become none of them.</summary>
public static class PagePolicy
{
    /// <summary>As a Content Security Policy (W3C, level 3). In the pages themselves, and in the header of a server that hands them
    /// out.</summary>
    public const string Text =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; base-uri 'none'; form-action 'none'";

    public const string PageWithProgram = "check.html";

    /// <summary>For the page of the check: its program is WebAssembly. It may ask nobody for anything, not even the place it came
    /// from.</summary>
    public const string WithProgram =
        "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self'; base-uri 'none'; form-action 'none'";

    /// <summary>The policy of a file of the pages, by its path.</summary>
    public static string Of(string path) => Path.GetFileName(path) == PageWithProgram ? WithProgram : Text;
}
