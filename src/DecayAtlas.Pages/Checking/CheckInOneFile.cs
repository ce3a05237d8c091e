using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Pages.Checking;

/// <summary>The check as one HTML file that needs nothing beside it: for a USB stick, a mail, a computer without the internet. It speaks
/// every language.</summary>
public static class CheckInOneFile
{
    public const string FileName = "decayatlas-check.html";

    /// <summary>Whether this build of the program has it.</summary>
    public static bool IsThere => CheckProgram.IsThere;

    /// <summary>Codes of those it speaks.</summary>
    public static IReadOnlyList<string> Languages => Language.Known;

    /// <param name="front">The language in which it is written; a browser that asks for another it knows gets that one.</param>
    /// <param name="isForGroup">Whether it goes with a kit, whose language is the group's and not that of a browser.</param>
    /// <exception cref="PagesException">This build has no check for browsers.</exception>
    public static string Text(string front, BuiltInCampaign? campaign, bool isForGroup = false) =>
        Text(front, campaign, null, null, isForGroup);

    /// <param name="data">The release whose sites stand beside what is dropped.</param>
    internal static string Text(string front, BuiltInCampaign? campaign, ReleaseData? data, ClimateNames? climate, bool isForGroup = false)
    {
        if (!IsThere)
        {
            throw new PagesException("This build has no check for browsers; run dotnet publish src/DecayAtlas.Browser and build again, or "
                + "take the packaged program.");
        }

        Language[] languages = [.. Language.Known.OrderBy(code => code != front).Select(code => Language.Find(code)!)];
        string style = "\n" + PageAssets.Text("assets/pages.css") + PageAssets.Text(CheckBody.Style);
        string[] scripts =
        [
            Script.Assign("atlasLanguages", languages.ToDictionary(words => words.Code, CheckWords.Of)),
            .. isForGroup ? [Script.Assign("atlasSpeaks", front)] : Array.Empty<string>(),
            PageAssets.Text("assets/check-language.js"), PageAssets.Text("assets/say.js"),
            .. data is null ? Array.Empty<string>() : [ReleasedSpread.ScriptOf(data, climate ?? new ClimateNames(null, null))],
            .. campaign is null ? Array.Empty<string>() : [ScriptOf(campaign)],
            CheckProgram.RuntimeScript, CheckProgram.Program, PageAssets.Text("assets/check.js"),
        ];
        string policy = $"default-src 'none'; script-src {string.Join(' ', scripts.Select(Hash))} 'wasm-unsafe-eval'; "
            + $"style-src {Hash(style)}; img-src data:; base-uri 'none'; form-action 'none'";
        return Markup.Of(
            $"""
            {PageHead.Of(languages[0].Code, policy, languages[0]["drop.title"], "data:,",
                Markup.Of($"<style>{Markup.Trusted(style)}</style>"))}
            <body>
            <header class="top"><span class="brand">DecayAtlas</span>
            <nav class="languages" aria-label="{languages[0]["drop.language"]}">{languages.Select(l => Markup.Of(
                $"<a lang=\"{l.Code}\" hreflang=\"{l.Code}\" href=\"#{l.Code}\">{l.Name}</a> "))}</nav></header>
            <main id="main">
            {CheckBody.Of(languages[0])}
            </main>
            <footer class="foot"><details><summary data-say="foot.licences">{languages[0]["foot.licences"]}</summary><pre>{PageAssets.Text(
                "assets/check-licences.txt")}</pre></details></footer>
            {scripts.Select(script => Markup.Of($"<script>{Markup.Trusted(script)}</script>\n"))}</body>
            </html>

            """).ToString();
    }

    internal static string ScriptOf(BuiltInCampaign campaign) =>
        Script.Assign("atlasCampaign", new { name = campaign.Name, text = campaign.Yaml });

    private static string Hash(string text) => $"'sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(text)))}'";
}
