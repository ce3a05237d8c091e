using Microsoft.OpenApi;

namespace DecayAtlas.Serving.Api;

/// <summary>The interface for people: the OpenAPI document as a page that can be read and tried.</summary>
internal static class ApiGuide
{
    public const string Style = """
        :root { color-scheme: light dark; font: 1rem/1.5 system-ui, sans-serif; }
        body { max-width: 60rem; margin: 2rem auto; padding: 0 1rem; }
        h2 { margin-top: 2rem; border-top: 1px solid; padding-top: 1rem; font-size: 1.1rem; overflow-wrap: anywhere; }
        .wide { overflow-x: auto; }
        table { border-collapse: collapse; }
        th, td { text-align: left; vertical-align: top; padding: .3rem .8rem .3rem 0; }
        """;

    public static string Page(OpenApiDocument description)
    {
        string title = description.Info.Title!, server = description.Servers![0].Url!;
        return Markup.Of($"""
            <!doctype html>
            <html lang="en">
            <head>
            <meta charset="utf-8">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <title>Interface of {title}</title>
            <link rel="stylesheet" href="{server}{FeaturesApi.Prefix}/guide.css">
            </head>
            <body>
            <main>
            <h1>Interface of {title}</h1>
            <p>{description.Info.Description}</p>
            <p>Sites and burials follow the open standard OGC API - Features, so that map programs read them as a layer:
            give them the address <code>{server}{FeaturesApi.Prefix}</code>.
            Programs read the whole description as <a href="{server}{FeaturesApi.Prefix}/openapi.json">OpenAPI 3.0</a>.
            <a href="{server}/">The pages</a> show it all on a map.</p>
            {description.Paths.Select(path => Section(server, path.Key, path.Value.Operations![HttpMethod.Get]))}
            </main>
            </body>
            </html>

            """).ToString();
    }

    private static Markup Section(string server, string path, OpenApiOperation get)
    {
        IList<IOpenApiParameter> parameters = get.Parameters ?? [];
        bool canBeTried = !path.Contains('{', StringComparison.Ordinal) && parameters.All(p => !p.Required);
        Markup name = canBeTried ? Markup.Of($"""<a href="{server}{path}">{path}</a>""") : path;
        Markup head = Markup.Of($"""<th scope="col">Parameter</th><th scope="col">Meaning</th>""");
        return Markup.Of($"""

            <h2><code>{name}</code></h2>
            <p>{get.Summary}</p>
            {Markup.If(parameters.Count > 0, $"""
                <div class="wide" tabindex="0"><table><thead><tr>{head}</tr></thead><tbody>{parameters.Select(Row)}</tbody></table></div>
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
