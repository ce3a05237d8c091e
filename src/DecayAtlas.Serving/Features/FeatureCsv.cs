using System.Text;

namespace DecayAtlas.Serving.Features;

/// <summary>Writes a page of features as CSV, as the released tables have it (<see cref="CsvTable"/>): id, place, and the properties that
/// GeoJSON has, with all digits. What links to other pages there stands in the header Link (RFC 8288).</summary>
internal static class FeatureCsv
{
    public const string MediaType = "text/csv; charset=utf-8";

    private const int LettersAtATime = 32 << 10;

    /// <param name="root">Address of the API, without a slash at its end.</param>
    public static async Task WritePageAsync(HttpResponse response, string root, FeatureCollectionInfo collection, FeatureTable table,
        PageRequest request, CancellationToken cancelled)
    {
        FeatureTable.Page page = table.PageOf(request);
        response.Headers.Append("Link", $"<{FeatureWriter.Address(root, collection, request)}>; rel=\"self\"");
        if (FeatureWriter.NextOf(table, page, request) is { } next)
            response.Headers.Append("Link", $"<{FeatureWriter.Address(root, collection, next)}>; rel=\"next\"");
        using StringWriter text = new();
        text.Write("feature_id,longitude,latitude");
        foreach (FeatureColumn column in table.Columns)
            text.Write("," + column.Info.Name);
        text.Write('\n');
        for (int i = 0; i < page.Count; i++)
        {
            int row = page.RowAt(i);
            (double Longitude, double Latitude)? place = table.PlaceOf(row);
            CsvTable.Write(text, table.IdOf(row).ToString());
            foreach (object? value in table.Columns.Select(c => c.ValueAt(row)).Prepend(place?.Latitude).Prepend(place?.Longitude))
            {
                text.Write(',');
                CsvTable.Write(text, value);
            }

            text.Write('\n');
            if (text.GetStringBuilder().Length > LettersAtATime)
                await SendAsync();
        }

        await SendAsync();

        async Task SendAsync()
        {
            StringBuilder letters = text.GetStringBuilder();
            await response.Body.WriteAsync(Encoding.UTF8.GetBytes(letters.ToString()), cancelled);
            letters.Clear();
        }
    }
}
