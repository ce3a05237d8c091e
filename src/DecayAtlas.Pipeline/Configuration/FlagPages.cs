using System.Text;

namespace DecayAtlas.Pipeline.Configuration;

/// <summary>The flags as one Markdown page, a section each, so that a code leads to its explanation by its anchor.</summary>
public static class FlagPages
{
    public static string ToMarkdown()
    {
        StringBuilder text = new();
        text.Append("""
            # Flags

            This page is made from the code; a test fails when it is stale.

            A flag is one finding about one record. It never removes anything: the record stays in its table, and `use` says what may be done
            with it. A `reject` flag makes it rejected, a `suspect` flag suspect, a `note` leaves it accepted. A bag inherits from its site, a
            burial from its site and from its bags. Summaries and models take accepted records only. A note that casts doubt makes burials
            noted (table `noted`): what is said of accepted records is said again without these. Limits are settings (section `flags` of
            the pipeline configuration); those given here are the defaults, common practice without a source but where one is named.

            | code | family | severity | on |
            | --- | --- | --- | --- |

            """);
        FlagDefinition[] flags = [.. FlagCatalogue.All.OrderBy(f => f.Family)];
        foreach (FlagDefinition flag in flags)
        {
            text.Append(InvariantCulture, $"| [{flag.Code}](#{flag.Code}) | {AtlasCode.Of(flag.Family)} | {AtlasCode.Of(flag.Severity)} ")
                .Append(InvariantCulture, $"| {flag.StandsOn} |\n");
        }

        foreach (FlagDefinition flag in flags)
        {
            text.Append(InvariantCulture, $"""

                ## {flag.Code}

                {flag.Meaning}

                - Family: {AtlasCode.Of(flag.Family)}. Severity: {AtlasCode.Of(flag.Severity)}. Stands on: {flag.StandsOn}.
                - Rule: {flag.Rule}

                """);
            if (flag.CastsDoubt)
            {
                text.Append("- Casts doubt: the burials it is about are noted; answers, the model and the map are given without them too, ")
                    .Append("until a decision overrules it.\n");
            }

            foreach (DeclaredSetting limit in DeclaredSetting.Of(flag))
            {
                text.Append(InvariantCulture,
                    $"- Limit: `{limit.Name.Replace('/', '.')}`, {limit.Default ?? "none"} by default. {limit.Meaning}.\n");
            }

            text.Append(InvariantCulture, $"- What to do: {flag.Mend}\n");
        }

        return text.ToString().ReplaceLineEndings("\n");
    }
}
