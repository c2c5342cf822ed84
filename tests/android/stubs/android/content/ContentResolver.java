package android.content;

import android.database.Cursor;
import android.net.Uri;
import android.provider.OpenableColumns;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.InputStream;
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

    /** What another program offers to read, and under which name; null: nothing, no name. */
    private byte[] offered;

    private String named;
    public boolean breaks;

    public void offer(String name, byte[] data) {
        named = name;
        offered = data;
    }

    public InputStream openInputStream(Uri uri) {
        if (offered == null) {
            return null;
        }
        return new ByteArrayInputStream(offered) {
            @Override
            public synchronized int read(byte[] into, int at, int length) {
                if (breaks && pos > 0) {
                    throw new IllegalStateException("the stick was pulled out");
                }
                return super.read(into, at, length);
            }
        };
    }

    public Cursor query(Uri uri, String[] columns, String where, String[] values, String order) {
        if (named == null || !columns[0].equals(OpenableColumns.DISPLAY_NAME)) {
            return null;
        }
        return new Cursor() {
            @Override
            public boolean moveToFirst() {
                return true;
            }

            @Override
            public boolean isNull(int column) {
                return false;
            }

            @Override
            public String getString(int column) {
                return named;
            }

            @Override
            public void close() {}
        };
    }

    public String writtenText() {
        return new String(written.toByteArray(), StandardCharsets.UTF_8);
    }
}
