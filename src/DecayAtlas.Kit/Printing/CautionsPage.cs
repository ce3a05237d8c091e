namespace DecayAtlas.Kit.Printing;

/// <summary>What is to be minded before anybody digs, and what the curator adds.</summary>
internal static class CautionsPage
{
    private static readonly string[] Keys =
        ["services", "consent", "protected", "danger", "children", "hygiene", "field", "oven", "post", "people", "use"];

    public static Markup Of(GroupKit kit)
    {
        string[] own = [.. Own(kit)];
        return Markup.Of(
            $"""
            <p class="hint warn">{kit.Words["kit.caution.lead"]}</p>
            {Markup.If(own.Length > 0, $"<h2>{kit.Words["kit.caution.own"]}</h2><ul class=\"cautions\">{own.Select(Item)}</ul>\n")}
            <ul class="cautions">{Keys.Select(key => Item(kit.Words[$"kit.caution.{key}"]))}</ul>

            """);
    }

    /// <summary>What the curator adds, which goes along to the field too.</summary>
    public static IEnumerable<string> Own(GroupKit kit) =>
        kit.Campaign.Cautions.Concat(kit.Group.Cautions).Select(caution => caution.In(kit.Words.Code));

    private static Markup Item(string text) => Markup.Of($"<li>{text}</li>\n");
}
