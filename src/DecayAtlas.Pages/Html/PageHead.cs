namespace DecayAtlas.Pages.Html;

/// <summary>What every page begins with, up to the end of its head.</summary>
public static class PageHead
{
    /// <param name="language">BCP 47 code.</param>
    /// <param name="policy">What the page may load, in our own words.</param>
    /// <param name="icon">The way to the mark of the house.</param>
    /// <param name="rest">Styles and scripts.</param>
    public static Markup Of(string language, string policy, Markup title, string icon, Markup rest) => Markup.Of(
        $"""
        <!DOCTYPE html>
        <html lang="{language}">
        <head>
        <meta charset="utf-8">
        <meta http-equiv="Content-Security-Policy" content="{Markup.Trusted(policy)}">
        <meta name="viewport" content="width=device-width, initial-scale=1">
        <meta name="color-scheme" content="light dark">
        <title>{title}</title>
        <link rel="icon" href="{icon}">
        {rest}
        </head>
        """);
}
