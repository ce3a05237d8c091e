using Deque.AxeCore.Commons;
using Microsoft.Playwright;

namespace DecayAtlas.EndToEnd;

/// <summary>What axe finds wrong with a page. It is asked for faults alone: to describe all that is right as well takes it several times
/// as long.</summary>
internal static class Accessibility
{
    private static readonly string Axe = new BundledAxeScriptProvider().GetScript();

    /// <summary>Its serious and critical faults.</summary>
    /// <param name="name">Of the page, for who reads them.</param>
    /// <param name="scheme">Dark pages are the light ones in other colours: of these only colours are asked.</param>
    public static async Task<string[]> SeriousFaultsAsync(IPage page, string name, ColorScheme scheme = ColorScheme.Light)
    {
        await page.EvaluateAsync(Axe);
        string rules = scheme == ColorScheme.Dark ? "runOnly: ['color-contrast', 'link-in-text-block'], " : "";
        string[] faults = await page.EvaluateAsync<string[]>($$"""
            async () => (await axe.run({ {{rules}}resultTypes: ['violations'] })).violations
              .filter(v => v.impact === 'serious' || v.impact === 'critical')
              .map(v => `${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map(n => n.html).join(' | ')}`)
            """);
        return [.. faults.Select(fault => $"{name}: {fault}")];
    }
}
