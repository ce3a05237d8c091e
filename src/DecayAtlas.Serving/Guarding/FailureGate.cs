namespace DecayAtlas.Serving.Guarding;

/// <summary>Turns what was thrown into one sentence for the reader and one for the log; no stack trace leaves the server.</summary>
internal sealed class FailureGate(IServingLog log)
{
    public async Task RunAsync(HttpContext http, RequestDelegate next)
    {
        try
        {
            await next(http);
        }
        catch (Exception) when (http.RequestAborted.IsCancellationRequested)
        {
            // the reader went away
        }
        catch (OperationCanceledException) when (http.Response.HasStarted)
        {
            http.Abort();   // its time is over while the reader dawdles, which is no trouble of ours
        }
        catch (BadHttpRequestException e)
        {
            await AnswerAsync(http, e.StatusCode, "The request is not one that this server can read.");
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            await AnswerAsync(http, Status404NotFound, "The file was taken away while it was asked for; ask again from the beginning.");
        }
        catch (GridException e)
        {
            log.Trouble(e.Message);
            await AnswerAsync(http, Status503ServiceUnavailable,
                "A grid that predictions need can't be read just now; the server's log says which.");
        }
        catch (Exception e)
        {
            log.Trouble($"{http.Request.Method} {http.Request.Path} failed: {OurMistake.Of(e)}: {e.Message.ReplaceLineEndings(" ")}");
            await AnswerAsync(http, Status500InternalServerError, "The server made a mistake with this request; its log says more.");
        }
    }

    private static Task AnswerAsync(HttpContext http, int status, string sentence)
    {
        if (http.Response.HasStarted)
        {
            http.Abort();   // half an answer must not look like a whole one
            return Task.CompletedTask;
        }

        return Problem.WriteAsync(http, status, sentence);
    }
}
