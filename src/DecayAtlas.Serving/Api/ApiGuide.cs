using System.Globalization;
using Microsoft.OpenApi;

namespace DecayAtlas.Serving.Api;

/// <summary>The interface for people: the OpenAPI document as a page that can be read and tried.</summary>
internal static class ApiGuide
{
    public static string Page(OpenApiDocument description, ServedRelease release)
    {
        string server = description.Servers![0].Url!;
        (FeatureCollectionInfo Info, FeatureTable Table)[] collections =
            [.. FeatureCollectionInfo.All.Select(c => (c, release.Features.Of(c)))];
        IEnumerable<Markup> tiles = collections.Select(c => Markup.Of(
            $"<div><dt>{c.Info.Title}</dt><dd>{c.Table.Count.ToString("#,##0", CultureInfo.InvariantCulture)}</dd></div>"));
        Markup body = Markup.Of($"""
            <p class="lead">{description.Info.Description}</p>
            <dl class="tiles">{tiles}<div><dt>release, published {ReleaseFacts.Of(release.Folder).Day}</dt><dd
              class="words">{release.Name.Id}</dd></div></dl>
            <p class="doors"><a class="door" href="{server}{FeaturesApi.Prefix}/openapi.json">OpenAPI 3.0</a>
            <a class="door quiet" href="{server}/">The pages</a></p>
            <p class="hint">Sites and burials follow the open standard OGC API - Features, so that map programs read them as a layer:
            give them the address <code>{server}{FeaturesApi.Prefix}</code>.</p>
            {description.Paths.Select(path => Section(server, path.Key, path.Value.Operations![HttpMethod.Get]))}
            """);
        return ServerPage.Of(server, description.Info.Title!, "Interface", FeaturesApi.Prefix + "/guide", body);
    }

    private static Markup Section(string server, string path, OpenApiOperation get)
    {
        IList<IOpenApiParameter> parameters = get.Parameters ?? [];
        bool canBeTried = !path.Contains('{', StringComparison.Ordinal) && parameters.All(p => !p.Required);
        Markup name = canBeTried ? Markup.Of($"""<a href="{server}{path}">{path}</a>""") : path;
        Markup head = Markup.Of($"""<th scope="col">Parameter</th><th scope="col">Meaning</th>""");
        return Markup.Of($"""

            <h2 class="address"><code>{name}</code></h2>
            <p>{get.Summary}</p>
            {Markup.If(parameters.Count > 0, $"""
                <div class="scroll" tabindex="0" role="region" aria-label="Parameters of {path}"><table><thead><tr>{head}</tr></thead>
                <tbody>{parameters.Select(Row)}</tbody></table></div>
                """)}
            """);
    }

    private static Markup Row(IOpenApiParameter parameter)
    {
        string choices = parameter.Schema?.Enum is { Count: > 0 } values
            ? $" One of {string.Join(", ", values.Select(v => (string?)v))}." : "";
        return Markup.Of(
            $"""<tr><th scope="row"><code>{parameter.Name}</code></th><td>{parameter.Description}{choices}</td></tr>""");
    }
}
