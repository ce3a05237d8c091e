namespace DecayAtlas.Pages.Reading;

/// <summary>What the curator calls groups and campaigns, by their ids; an id without a title is shown itself.</summary>
public sealed record GivenTitles(IReadOnlyDictionary<string, string> Groups, IReadOnlyDictionary<string, LocalText> Campaigns)
{
    public static GivenTitles None { get; } = new(new Dictionary<string, string>(), new Dictionary<string, LocalText>());

    internal string? OfGroup(string id) => Groups.GetValueOrDefault(id);

    internal string Group(string id) => OfGroup(id) ?? id;

    internal string Campaign(string id, Phrases words) => Campaigns.GetValueOrDefault(id)?.In(words.Code) ?? id;

    /// <summary>A title over its id, which shows when somebody points at it.</summary>
    internal static Markup Over(string title, string id) =>
        title == id ? Markup.Of($"{id}") : Markup.Of($"<span title=\"{id}\">{title}</span>");

    /// <summary>A title with its id quietly beside it.</summary>
    internal static Markup Beside(string title, string id) =>
        title == id ? Markup.Of($"{id}") : Markup.Of($"{title} <span class=\"nothing\">{id}</span>");
}
