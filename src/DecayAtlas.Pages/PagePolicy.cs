namespace DecayAtlas.Pages;

/// <summary>What a browser may load for the pages: nothing from outside, and no script, style or picture that stands in a page itself: what
/// a stranger wrote can become none of them.</summary>
public static class PagePolicy
{
    /// <summary>As a Content Security Policy (W3C, level 3). In the pages themselves, and in the header of a server that hands them
    /// out.</summary>
    public const string Text =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; base-uri 'none'; form-action 'none'";
}
