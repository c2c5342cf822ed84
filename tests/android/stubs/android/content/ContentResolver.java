package android.content;

import android.net.Uri;
import java.io.ByteArrayOutputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;

public class ContentResolver {
    public final ByteArrayOutputStream written = new ByteArrayOutputStream();
    public ContentValues values;

    public Uri insert(Uri where, ContentValues values) {
        this.values = values;
        return Uri.parse(where + "/7");
    }

    public OutputStream openOutputStream(Uri uri) {
        return written;
    }

    public String writtenText() {
        return new String(written.toByteArray(), StandardCharsets.UTF_8);
    }
}
